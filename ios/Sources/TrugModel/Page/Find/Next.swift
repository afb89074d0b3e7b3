import TrugCore

/// The one thing to do next.
enum Next {
    /// A photo that is missing while nobody has a name for it.
    case photo(role: String)
    /// Its name.
    case work
    /// Nothing.
    case done

    init(_ page: FindPage) {
        if page.name.name == nil, !page.photos.isEmpty, let role = page.missingRoles.first {
            self = .photo(role: role)
        } else {
            self = page.name.settled ? .done : .work
        }
    }

    var isWork: Bool {
        if case .work = self { true } else { false }
    }

    @MainActor func touch(_ desk: Find, _ page: FindPage) -> Touch {
        let (house, find) = (desk.house, desk.find)
        return switch self {
        case .photo(let role):
            Touch(Words.Find.photographRole(role: Words.called("role", role)), .thumb) {
                house.photograph(Purpose(find: find, role: role))
            }
        case .work: Touch(Words.Find.workOut, .thumb) { house.go(Stop(.work, find: find)) }
        case .done: Touch(Words.App.done, .thumb) { [weak desk] in if let desk { house.leave(desk) } }
        }
    }
}
