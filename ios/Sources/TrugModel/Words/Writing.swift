import Foundation
import TrugCore

/// How times, numbers and ways are written where the phone is.
public struct Writing: Sendable {
    let locale: Locale

    public init(locale: Locale = .current) {
        self.locale = locale
    }

    // ---- Times

    /// The hour that the clock showed, on 12 or 24 hours as the phone is set.
    func hour(_ at: When) -> String {
        written("jmm", Date(timeIntervalSince1970: Double(at.millis) / 1000), zone: Int(at.offsetSeconds))
    }

    /// A day like 2026-10-18, as people write it here; the year only if it is another than that of `now`.
    func day(_ day: String, now: When? = nil) -> String {
        let parts = day.split(separator: "-").compactMap { Int($0) }
        guard parts.count == 3 else { return day }
        var calendar = Calendar(identifier: .gregorian)
        calendar.timeZone = .gmt
        guard let date = calendar.date(from: DateComponents(year: parts[0], month: parts[1], day: parts[2])) else { return day }
        return written(now?.day.prefix(4) == day.prefix(4) ? "MMMd" : "yMMMd", date, zone: 0)
    }

    private func written(_ template: String, _ date: Date, zone seconds: Int) -> String {
        let format = DateFormatter()
        format.locale = locale
        format.calendar = Calendar(identifier: .gregorian)
        format.timeZone = TimeZone(secondsFromGMT: seconds)
        format.setLocalizedDateFormatFromTemplate(template)
        return format.string(from: date)
    }

    /// So many minutes, as hours and minutes.
    func span(_ minutes: Int64) -> String {
        let whole = Int(minutes)
        return whole < 60 ? Words.Now.minutes(minutes: whole) : Words.Now.hours(hours: whole / 60, minutes: whole % 60)
    }

    /// The months by name, each by its number.
    var months: [Offered] {
        var calendar = Calendar(identifier: .gregorian)
        calendar.locale = locale
        return calendar.standaloneMonthSymbols.enumerated().map { Offered(id: String($0 + 1), label: $1) }
    }

    /// A month by its name, from 1 to 12; with its year, if one is meant.
    func month(_ month: Int, year: Int? = nil) -> String { written(year == nil ? "LLLL" : "yLLLL", month, year) }

    /// The same, as short as it can be understood.
    func monthBrief(_ month: Int) -> String { written("LLL", month, nil) }

    /// Its letter: it says which month only among the others.
    func monthLetter(_ month: Int) -> String { written("LLLLL", month, nil) }

    private func written(_ template: String, _ month: Int, _ year: Int?) -> String {
        var calendar = Calendar(identifier: .gregorian)
        calendar.timeZone = .gmt
        let first = calendar.date(from: DateComponents(year: year ?? 2000, month: month, day: 1))
        return first.map { written(template, $0, zone: 0) } ?? String(month)
    }

    // ---- Numbers

    /// A number as people write it here, with nothing between thousands: in a field "1,250" would be read as one and a quarter.
    func number(_ number: Double) -> String { number.formatted(.number.grouping(.never).locale(locale)) }

    /// Several things in one sentence: "a, b and c".
    func all(_ things: [String]) -> String { things.formatted(.list(type: .and).locale(locale)) }

    /// What a patch is called: its name, or what is looked for there.
    func patch(_ name: String?, _ kind: NameShown?) -> String { name ?? kind?.english ?? Words.Now.patchUnnamed }

    // ---- Ways

    /// How far, and which way: "140 m, 320° NW", on whole 10 m beyond 100, in kilometres beyond 2000 m; in words where it is here.
    func way(_ metres: Double, _ bearing: Double?) -> String {
        guard let bearing else { return Words.Now.patchHere }
        let circle = 360
        let turned = Int(bearing.rounded()) % circle
        let degrees = turned < 0 ? turned + circle : turned
        let winds = ["n", "ne", "e", "se", "s", "sw", "w", "nw"]
        let wind = Words.called("compass", winds[Int((Double(degrees * winds.count) / Double(circle)).rounded()) % winds.count])
        guard metres >= 2000 else { return Words.Now.patchAt(metres: Self.rounded(metres), degrees: degrees, compass: wind) }
        let kilometres = (metres / 1000).formatted(.number.precision(.fractionLength(0...1)).locale(locale))
        return Words.Now.patchAtKm(kilometres: kilometres, degrees: degrees, compass: wind)
    }

    /// Metres, no finer than feet can tell.
    static func rounded(_ metres: Double) -> Int { Int(metres < 100 ? metres.rounded() : (metres / 10).rounded() * 10) }

    /// A number that was typed, in whatever digits and with whichever decimal sign, as the core reads it.
    static func plain(_ typed: String) -> String {
        typed.trimmingCharacters(in: .whitespacesAndNewlines).reduce(into: "") { plain, sign in
            if sign == "," || sign == "\u{066B}" {
                plain += "."
            } else if let digit = sign.wholeNumberValue, (0...9).contains(digit) {
                plain += String(digit)
            } else {
                plain.append(sign)
            }
        }
    }
}
