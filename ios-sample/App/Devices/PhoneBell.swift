import Ebbstead
import Foundation
import Presenters
import UserNotifications
import WidgetKit

/// The phone's own notifications: what rings, and what rings by itself if no reading comes. It decides nothing.
final class PhoneBell: NSObject, Bell, UNUserNotificationCenterDelegate, @unchecked Sendable {
    private static let ring = "ring"
    private static let silence = "silence"
    /// More of them than core ever asks for: a ring sounds once a minute, for a quarter of an hour at most.
    private static let most = 16
    /// The app may have been started by an answer, before it learnt them.
    private let opening: Set<RingChoice> = [.call, .checked]
    private let center = UNUserNotificationCenter.current()
    /// Called with what was tapped. Set once, before anything can be.
    var opened: (@MainActor (RingChoice?) -> Void)?
    var answered: (@Sendable (RingChoice) async -> Void)?

    override init() {
        super.init()
        center.delegate = self
    }

    /// The system asks the wearer once; refused, the app still shows what there is to do while it is open.
    func allow() { center.requestAuthorization(options: [.alert, .sound]) { _, _ in } }

    func learn(_ offers: [RingOffer], sets: [[RingChoice]], hidden: String) {
        let actions = Dictionary(uniqueKeysWithValues: offers.map { offer in
            (offer.what, UNNotificationAction(identifier: offer.what.id, title: offer.text, options: offer.opens ? [.foreground] : []))
        })
        let categories = sets.map { answers in
            UNNotificationCategory(
                identifier: Self.category(answers), actions: answers.compactMap { actions[$0] }, intentIdentifiers: [],
                hiddenPreviewsBodyPlaceholder: hidden, options: [.customDismissAction, .hiddenPreviewsShowTitle])
        }
        center.setNotificationCategories(Set(categories))
    }

    func ring(_ notice: Notice) {
        quiet()
        add(notice, Self.ring, from: 0)
    }

    /// iOS has no notification that stays: the widget shows what to do, and the newest reading. The app alone writes its file.
    func stand(_ glances: [Glance]) {
        if let file = Glance.shared, Glance.keep(glances, in: file) { WidgetCenter.shared.reloadAllTimelines() }
    }

    func quiet() { remove(Self.ring) }

    func callAgain(_ notice: Notice?, at: Moment) {
        remove(Self.silence, onlyPending: true)
        let seconds = Double(at.unixMs) / 1000 - Date().timeIntervalSince1970
        if let notice { add(notice, Self.silence, from: max(seconds, 1)) }
    }

    /// One for each time it sounds: a sound of the system's does not go on by itself.
    private func add(_ notice: Notice, _ name: String, from seconds: Double) {
        let content = UNMutableNotificationContent()
        (content.title, content.body) = (notice.title, notice.text)
        content.sound = notice.isLoud ? .defaultRingtone : .default
        content.interruptionLevel = notice.isLoud ? .timeSensitive : .active
        content.categoryIdentifier = Self.category(notice.answers)
        content.threadIdentifier = Self.ring
        for (place, after) in ([0] + notice.again).prefix(Self.most).enumerated() {
            let at = seconds + after
            let trigger = at > 0 ? UNTimeIntervalNotificationTrigger(timeInterval: at, repeats: false) : nil
            center.add(UNNotificationRequest(identifier: Self.id(name, place), content: content, trigger: trigger))
        }
    }

    private func remove(_ name: String, onlyPending: Bool = false) {
        let all = (0..<Self.most).map { Self.id(name, $0) }
        center.removePendingNotificationRequests(withIdentifiers: all)
        if !onlyPending { center.removeDeliveredNotifications(withIdentifiers: all) }
    }

    private static func id(_ name: String, _ place: Int) -> String { "\(name) \(place)" }
    private static func category(_ answers: [RingChoice]) -> String { answers.map(\.id).joined(separator: " ") }

    /// It rings with the app on the screen too.
    func userNotificationCenter(
        _ center: UNUserNotificationCenter, willPresent notification: UNNotification
    ) async -> UNNotificationPresentationOptions { [.banner, .list, .sound] }

    /// Whatever was tapped, nothing sounds again.
    func userNotificationCenter(_ center: UNUserNotificationCenter, didReceive response: UNNotificationResponse) async {
        remove(response.notification.request.identifier.hasPrefix(Self.silence) ? Self.silence : Self.ring)
        if response.actionIdentifier == UNNotificationDismissActionIdentifier { return }
        // What opens the app notes nothing; what was tapped beside the answers opens it as well.
        if let answer = RingChoice(id: response.actionIdentifier), !opening.contains(answer) {
            await answered?(answer)
        } else {
            await opened?(RingChoice(id: response.actionIdentifier))
        }
    }
}
