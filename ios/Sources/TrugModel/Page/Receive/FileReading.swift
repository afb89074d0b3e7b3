import Foundation
import TrugCore

/// The reading of one file, as it stands: it goes on while pages come and go.
@MainActor struct FileReading {
    /// What is asked of the core about one file. The passphrase stands nowhere but here, and goes with the process.
    struct Asked {
        let file: URL
        let passphrase: String?
        let isTaking: Bool
        let looked: BundleRead?
    }

    private let jobs: Jobs
    private let file: URL
    private let told: @MainActor () -> Void

    init(_ jobs: Jobs, _ file: URL, told: @escaping @MainActor () -> Void) {
        self.jobs = jobs
        self.file = file
        self.told = told
    }

    private var job: LongJob? { jobs[Self.name].flatMap { ($0.about as? Asked)?.file == file ? $0 : nil } }
    private var asked: Asked? { job?.about as? Asked }

    var passphrase: String? { asked?.passphrase }

    func words(_ writing: Writing) -> String { job?.words(writing) ?? Words.App.busy }

    /// What it would bring, once that is known.
    var looked: BundleRead? {
        if let looked = asked?.looked { return looked }
        guard asked?.isTaking == false, case .success(let bundle)? = ended else { return nil }
        return bundle
    }

    /// What came of looking or taking; none while it goes on, or was not asked for in this process.
    var ended: Result<BundleRead, any Error>? {
        switch job?.ended {
        case .success(.read(let bundle))?: .success(bundle)
        case .failure(let error)?: .failure(error)
        default: nil
        }
    }

    func isAsked(taking: Bool) -> Bool { asked?.isTaking == taking }

    func look(_ passphrase: String?) { ask(Asked(file: file, passphrase: passphrase, isTaking: false, looked: nil)) }

    func take() { ask(Asked(file: file, passphrase: passphrase, isTaking: true, looked: looked)) }

    private func ask(_ asked: Asked) {
        let (path, passphrase, isTaking) = (file.path, asked.passphrase, asked.isTaking)
        jobs.begin(Self.name, about: asked) { book in
            isTaking ? try book.startTake(path: path, passphrase: passphrase) : try book.startLook(path: path, passphrase: passphrase)
        }
        watch()
    }

    /// It is told from now on when that ends.
    func watch() { job?.watch = told }

    func stop() { job?.stop() }

    func forget() {
        if job != nil { jobs.forget(Self.name) }
    }

    private static let name = "receive"
}
