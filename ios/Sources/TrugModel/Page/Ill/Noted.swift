import Foundation
import TrugCore

extension MealShown {
    /// A meal on record, as it would be noted again.
    var noted: MealNoted {
        MealNoted(
            at: at.map(At.init), what: what, finds: finds.map(\.id), takenFor: takenFor.map(\.english), amount: amount, prepared: prepared,
            alcohol: alcohol,
            eaters: eaters.map {
                EaterNoted(name: $0.name, child: $0.child, feels: $0.feels, firstSign: $0.firstSign.map(At.init), signs: $0.signs)
            },
            others: others, left: left, note: note)
    }
}

extension MealNoted {
    /// Nothing yet.
    static var nothing: MealNoted {
        MealNoted(
            at: nil, what: nil, finds: [], takenFor: [], amount: nil, prepared: nil, alcohol: nil, eaters: [], others: nil, left: nil,
            note: nil)
    }

    /// Whether it says what was eaten, without which a meal is none.
    var saysWhat: Bool { what?.allSatisfy(\.isWhitespace) == false || !finds.isEmpty || !takenFor.isEmpty }
}

extension At {
    init(_ when: When) {
        self.init(millis: when.millis, offsetSeconds: when.offsetSeconds)
    }

    /// A time that was given, as it is shown.
    var shown: When {
        var calendar = Calendar(identifier: .gregorian)
        calendar.timeZone = TimeZone(secondsFromGMT: Int(offsetSeconds)) ?? .gmt
        let day = calendar.dateComponents([.year, .month, .day], from: Date(timeIntervalSince1970: Double(millis) / 1000))
        let text = String(format: "%04d-%02d-%02d", day.year ?? 0, day.month ?? 0, day.day ?? 0)
        return When(millis: millis, offsetSeconds: offsetSeconds, day: text)
    }
}
