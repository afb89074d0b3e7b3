import Foundation
import TrugCore

/// Calls into the core: made off the main thread, one after the other, and answered on it.
///
/// The one notebook of the process. The first call opens it, away from the thread that draws; where opening fails, its error answers
/// the call, and the next call tries again.
@MainActor public final class Core {
    private let worker = DispatchQueue(label: "core", qos: .userInitiated)
    private let aside = DispatchQueue(label: "aside", qos: .userInitiated)
    private let notebook: Notebook
    private var waiting = 0
    /// Long work.
    public private(set) lazy var jobs = Jobs(self)

    /// The notebook in a folder, which is made if there is none.
    public init(folder: URL) {
        Guard.forbidsMainThread = true
        notebook = Notebook(folder: folder, worker: worker)
    }

    /// Whether a call has not been answered yet.
    public var isBusy: Bool { waiting > 0 }

    /// Makes a call, and answers it on the main thread.
    func make<T: Sendable>(_ call: @escaping @Sendable (Book) throws -> T, then: @escaping @MainActor (Result<T, any Error>) -> Void) {
        waiting += 1
        worker.async { [notebook] in
            let answered = Result { try call(notebook.awake()) }
            DispatchQueue.main.async {
                MainActor.assumeIsolated {
                    self.waiting -= 1
                    then(answered)
                }
            }
        }
    }

    /// Does slow work that is not the core's: one after the other, beside it.
    func beside<T: Sendable>(_ work: @escaping @Sendable () throws -> T, _ then: @escaping @MainActor (Result<T, any Error>) -> Void) {
        waiting += 1
        aside.async {
            let answered = Result { try work() }
            DispatchQueue.main.async {
                MainActor.assumeIsolated {
                    self.waiting -= 1
                    then(answered)
                }
            }
        }
    }

    /// The phone leaves the foreground: all is put in order, so that the system may end the process. The next call goes on. Long work
    /// is let go on first, as far as the system lets it.
    public func rest(then: @escaping @MainActor () -> Void = {}) {
        jobs.whenIdle { [worker, notebook] in
            worker.async {
                notebook.rest()
                DispatchQueue.main.async { MainActor.assumeIsolated { then() } }
            }
        }
    }

    /// Lets go of the notebook, after the calls that were made; long work is stopped. Waits for that.
    public func close() {
        let end = jobs.endAll()
        worker.sync {
            end()
            notebook.close()
        }
    }
}

/// The open notebook. Belongs to the worker, and to nothing else.
private final class Notebook: @unchecked Sendable {
    private let folder: URL
    private let worker: DispatchQueue
    private var book: Book?
    private var rests = false

    init(folder: URL, worker: DispatchQueue) {
        self.folder = folder
        self.worker = worker
    }

    func awake() throws -> Book {
        dispatchPrecondition(condition: .onQueue(worker))
        let open = try book ?? Book.open(folder: folder.path, zone: zone())
        if book == nil { Shelter.cover(folder) }
        book = open
        if rests {
            try open.resume(zone: zone())
            rests = false
        }
        return open
    }

    func rest() {
        dispatchPrecondition(condition: .onQueue(worker))
        guard let book else { return }
        // What fails here loses nothing: it is done again on waking.
        try? book.pause()
        rests = true
    }

    func close() {
        dispatchPrecondition(condition: .onQueue(worker))
        book = nil
    }

    private func zone() -> Zone {
        let zone = TimeZone.current
        return Zone(name: zone.identifier, offsetSeconds: Int32(zone.secondsFromGMT()))
    }
}
