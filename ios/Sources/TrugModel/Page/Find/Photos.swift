import TrugCore

/// The photos by what they show, and gaps for those that are missing.
@MainActor final class Photos: Section {
    private unowned let desk: Find

    init(_ desk: Find) {
        self.desk = desk
    }

    func print(_ page: FindPage, into body: inout Column) {
        let (house, find) = (desk.house, desk.find)
        let taken = page.photos.map { photo in
            let role = Words.called("role", photo.role)
            return PhotoCell(id: photo.id, picture: photo.thumbnail ?? photo.path, label: role, said: Words.Find.photoOf(role: role)) {
                [desk] in
                desk.turn(.photo, photo: photo.id)
            }
        }
        let wanted = page.missingRoles.map { role in
            let called = Words.called("role", role)
            return PhotoCell(id: "wanted \(role)", picture: nil, label: called, said: Words.Find.photoWanted(role: called)) {
                house.photograph(Purpose(find: find, role: role))
            }
        }
        let another = PhotoCell(id: "another", picture: nil, label: Words.Find.anotherPhoto, said: Words.Find.anotherPhoto) { [desk] in
            desk.turn(.roles)
        }
        body.put(.photos(taken + wanted + [another]))
    }
}

/// One photo, as wide as the page.
@MainActor final class OnePhoto: Section {
    private unowned let desk: Find
    private let id: String?

    init(_ desk: Find, _ id: String?) {
        self.desk = desk
        self.id = id
    }

    func print(_ page: FindPage, into body: inout Column) {
        guard let photo = page.photos.first(where: { $0.id == id }) else { return }
        let role = Words.called("role", photo.role)
        body.head(role)
        if photo.path == nil { body.words(Words.Find.photoMissing) }
        body.put(.picture(Picture(path: photo.path, said: role)))
        body.touch(Words.Find.photoDrop) { [desk] in
            desk.act { [find = desk.find] in try $0.dropPhoto(id: find, photo: photo.id) }
        }
    }
}

/// What another photo is to show.
@MainActor final class Roles: Section {
    private unowned let desk: Find

    init(_ desk: Find) {
        self.desk = desk
    }

    func print(_ page: FindPage, into body: inout Column) {
        let (house, find) = (desk.house, desk.find)
        body.head(Words.Find.anotherPhoto)
        for role in Words.choices("role") {
            body.touch(role.label) { house.photograph(Purpose(find: find, role: role.id)) }
        }
        body.touch(Words.Now.choose) { house.photograph(Purpose(find: find, role: "whole"), choose: true) }
    }
}
