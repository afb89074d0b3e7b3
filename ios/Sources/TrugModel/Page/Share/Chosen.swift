import TrugCore

/// Who alone may open the file.
enum Lock: String, Codable {
    case open, passphrase, key, device
}

/// Everything that is chosen on the first leaf, and remembered. At first it is the least that may leave.
struct Chosen: Codable, Equatable {
    /// Everything, for the owner's own devices; else copies.
    var forMe = false
    /// Which finds; none for what the core takes to be meant.
    var which: Which?
    var form = "bundle"
    var place = "10km"
    /// What else may leave: notes, time, photos, name.
    var ticked: Set<String> = []
    var name = ""
    var recipient = ""
    /// The paired device that it is for; none for any.
    var device: String?
    var lock = Lock.open
    var key = ""

    var what: ShareWhat {
        if forMe { return .everything(device: device) }
        let terms = ShareTerms(
            place: place, notes: ticked.contains("notes"), time: ticked.contains("time"), photos: ticked.contains("photos"),
            name: ticked.contains("name") ? name : nil, recipient: recipient.isEmpty ? nil : recipient)
        return .copies(which: which?.asked ?? .all, form: form, terms: terms)
    }

    func seal(_ passphrase: String) -> ShareSeal {
        switch lock {
        case .open: .open
        case .passphrase: .passphrase(passphrase: passphrase)
        case .key: .key(key: key)
        case .device: device.map { .device(id: $0) } ?? .open
        }
    }
}

/// What is meant, as it can be remembered, and as another page leads here.
enum Which: Codable, Equatable {
    case all
    case find(String)
    case outing(String)
    case patch(String)
    case days(String?, String?)

    /// The ways of meaning finds.
    var way: String {
        switch self {
        case .all: "all"
        case .find: "find"
        case .outing: "outing"
        case .patch: "patch"
        case .days: "days"
        }
    }

    var asked: ShareWhich {
        switch self {
        case .all: .all
        case .find(let id): .find(id: id)
        case .outing(let id): .outing(id: id)
        case .patch(let id): .patch(id: id)
        case .days(let from, let to): .days(from: from, to: to)
        }
    }

    init(_ asked: ShareWhich) {
        self =
            switch asked {
            case .all: .all
            case .find(let id): .find(id)
            case .outing(let id): .outing(id)
            case .patch(let id): .patch(id)
            case .days(let from, let to): .days(from, to)
            }
    }
}
