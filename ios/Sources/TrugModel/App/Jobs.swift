import Foundation
import Observation
import TrugCore

/// Long work of the core's, by the name of whoever asked for it. It outlives the page that did, so that other pages may be looked at
/// meanwhile; it does not outlive the process.
@MainActor @Observable public final class Jobs {
    @ObservationIgnored private unowned let core: Core
    private var known: [String: LongJob] = [:]

    /// What is to be done once nothing is under way any more.
    @ObservationIgnored private var afterwards: (@MainActor () -> Void)?

    init(_ core: Core) {
        self.core = core
    }

    /// Whether anything is under way.
    var isBusy: Bool { known.values.contains { $0.ended == nil } }

    /// What was asked for under this name, under way or at its end, until it is forgotten.
    subscript(_ name: String) -> LongJob? { known[name] }

    /// Begins something; one of that name that is under way is stopped. `about` is whatever its page wants to know of it again: it is
    /// never written down. `ended` is told what came of it.
    @discardableResult
    func begin(
        _ name: String, about: Any? = nil, start: @escaping @Sendable (Book) throws -> Job, ended: @escaping @MainActor () -> Void = {}
    ) -> LongJob {
        forget(name)
        let job = LongJob(core, about, start) { [weak self] in
            ended()
            self?.over()
        }
        known[name] = job
        return job
    }

    /// Nobody wants to know of it any more.
    func forget(_ name: String) {
        known.removeValue(forKey: name)?.stop()
    }

    /// Does something as soon as nothing is under way.
    func whenIdle(_ then: @escaping @MainActor () -> Void) {
        if isBusy { afterwards = then } else { then() }
    }

    private func over() {
        guard !isBusy, let then = afterwards else { return }
        afterwards = nil
        then()
    }

    /// Ends all of it, where calls are made.
    func endAll() -> @Sendable () -> Void {
        let handles = known.values.map(\.handle)
        return { for handle in handles { handle.end() } }
    }
}

/// One piece of long work.
@MainActor @Observable final class LongJob {
    /// The job itself. Belongs to where calls are made.
    final class Handle: @unchecked Sendable {
        fileprivate var job: Job?

        /// Stops it, and waits until it has.
        func end() {
            guard let job else { return }
            try? job.cancel()
            while (try? job.progress().over) == false { Thread.sleep(forTimeInterval: 0.005) }
            self.job = nil
        }
    }

    @ObservationIgnored private unowned let core: Core
    @ObservationIgnored let about: Any?
    @ObservationIgnored let handle = Handle()
    @ObservationIgnored private let over: @MainActor () -> Void
    @ObservationIgnored private var isStopped = false

    /// How far it is; none before it has begun.
    private(set) var far: TrugCore.Progress?

    /// Told of its end: whoever shows it by then. Pages come and go meanwhile.
    @ObservationIgnored var watch: (@MainActor () -> Void)?

    /// What came of it; none while it is under way.
    private(set) var ended: Result<JobReport, any Error>?

    init(_ core: Core, _ about: Any?, _ start: @escaping @Sendable (Book) throws -> Job, over: @escaping @MainActor () -> Void) {
        self.core = core
        self.about = about
        self.over = over
        core.make { [handle] in
            handle.job = try start($0)
        } then: { [weak self] begun in
            guard let self else { return }
            switch begun {
            case .success: if isStopped { stop() } else { look() }
            case .failure(let error): end(.failure(error))
            }
        }
    }

    /// Asks it to stop: it ends soon, and says so.
    func stop() {
        isStopped = true
        guard ended == nil else { return }
        core.make { [handle] _ in
            try handle.job?.cancel()
        } then: { [weak self] _ in
            self?.look()
        }
    }

    private func look() {
        guard ended == nil else { return }
        core.make { [handle] _ in
            guard let job = handle.job else { return nil as (TrugCore.Progress, Result<JobReport?, any Error>)? }
            return (try job.progress(), Result { try job.result() })
        } then: { [weak self] answered in
            self?.told(answered)
        }
    }

    private func told(_ answered: Result<(TrugCore.Progress, Result<JobReport?, any Error>)?, any Error>) {
        guard ended == nil else { return }
        switch answered {
        case .failure(let error): return end(.failure(error))
        case .success(nil): return
        case .success(let (now, result)?):
            far = now
            switch result {
            case .failure(let error): return end(.failure(error))
            case .success(let report?): return end(.success(report))
            case .success(nil): break
            }
        }
        Task { [weak self] in
            try? await Task.sleep(for: .milliseconds(250))
            self?.look()
        }
    }

    private func end(_ result: Result<JobReport, any Error>) {
        guard ended == nil else { return }
        ended = result
        core.make { [handle] _ in
            handle.job = nil
        } then: { _ in
        }
        watch?()
        over()
    }

    /// What it is at: in words, and by a count that shows that it goes on. How much is left, nobody knows.
    func words(_ writing: Writing) -> String {
        guard let far, !far.doing.isEmpty else { return Words.App.busy }
        return Words.joined([Words.called("doing", far.doing), writing.number(Double(far.steps))])
    }
}
