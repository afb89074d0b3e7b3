import Foundation
import TrugCore

/// Calls into the core: made off the main thread, one after the other, and answered on it.
///
/// The one notebook of the process. The first call opens it, away from the thread that draws; where opening fails, its error answers
/// the call, and the next call tries again.
@MainActor public final class Core {
    private let worker = DispatchQueue(label: "core", qos: .userInitiated)
    private let notebook: Notebook
    private var waiting = 0

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

    /// The phone leaves the foreground: all is put in order, so that the system may end the process. The next call goes on.
    public func rest(then: @escaping @MainActor () -> Void = {}) {
        worker.async { [notebook] in
            notebook.rest()
            DispatchQueue.main.async { MainActor.assumeIsolated { then() } }
        }
    }

    /// Lets go of the notebook, after the calls that were made. Waits for that.
    public func close() {
        worker.sync { notebook.close() }
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
