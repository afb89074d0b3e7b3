/// An outing begins: where, if anybody cares to say, and may I pick here?
@MainActor final class Starting {
    let place = Field(Words.Now.where)
    private let start: @MainActor (String, String) -> Void

    init(_ before: String, start: @escaping @MainActor (String, String) -> Void) {
        self.start = start
        place.begin(before)
    }

    var leaf: Leaf {
        var body = Column(.field(place))
        body.head(Words.Now.mayPick)
        for answer in Words.choices("may-pick") {
            body.touch(answer.label) { [self] in start(place.text, answer.id) }
        }
        return Leaf(said: Words.Now.mayPick, body: body.lines)
    }
}
