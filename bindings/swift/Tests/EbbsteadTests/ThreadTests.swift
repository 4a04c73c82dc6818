import Ebbstead
import Foundation
import XCTest

final class ThreadTests: LogCase {
    /// Eight threads note, ask and list at once; every note is there afterwards, and every answer whole.
    func testManyThreadsOnOneCompanion() throws {
        let companion = try open()
        _ = try companion.log().recordReadings(source: "test sensor", readings: falling(), now: at(61))
        let failures = Recorder()
        let (threads, each) = (8, 10)
        let (first, now) = (at(30), at(61))
        DispatchQueue.concurrentPerform(iterations: threads) { thread in
            for round in 0..<each {
                do {
                    let note = EntryKind.note(text: "thread \(thread), round \(round)")
                    _ = try companion.log().record(what: note, at: first, now: now)
                    let answer = try companion.check().ask(question: Question(now: now, occasion: .look, feels: nil, meterMgDl: nil))
                    if answer.prompt.estimate?.readingMgDl != 104 { try failures.logChanged() }
                    _ = try companion.log().list(from: first, until: now, replaced: false, readings: false)
                } catch {
                    try? failures.logChanged()
                }
            }
        }
        XCTAssertEqual(failures.all, [])
        let noted = try companion.log().list(from: first, until: now, replaced: false, readings: false)
        XCTAssertEqual(Set(noted.map(\.entry.text)).count, threads * each)
    }

    /// Closing while others work: they finish or are refused as closed, and nothing else.
    func testClosingWhileOthersWork() throws {
        let companion = try open()
        let wrong = Recorder()
        let (first, now) = (at(0), at(1))
        DispatchQueue.concurrentPerform(iterations: 6) { thread in
            for round in 0..<30 {
                do {
                    if thread == 0 && round == 10 { try companion.closeLog() }
                    _ = try companion.log().record(what: .note(text: "\(thread) \(round)"), at: first, now: now)
                } catch ApiError.Closed {
                    return
                } catch {
                    try? wrong.logChanged()
                }
            }
        }
        XCTAssertEqual(wrong.all, [])
        XCTAssertNoThrow(try open(at: now).log())
    }

    func testACompanionMayBeUsedFromTasks() async throws {
        let companion = try open()
        let (first, now) = (at(0), at(1))
        try await withThrowingTaskGroup(of: Void.self) { group in
            for number in 0..<20 {
                group.addTask { _ = try companion.log().record(what: .note(text: "task \(number)"), at: first, now: now) }
            }
            try await group.waitForAll()
        }
        XCTAssertEqual(try companion.log().list(from: first, until: now, replaced: false, readings: false).count, 20)
    }
}
