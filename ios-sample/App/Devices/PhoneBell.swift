import Ebbstead
import Foundation
import Presenters
import UIKit
import UserNotifications
import WidgetKit

/// The phone's own notifications: what rings, and what rings by itself if no reading comes. It decides nothing.
final class PhoneBell: NSObject, Bell, UNUserNotificationCenterDelegate {
    private static let ring = "ring"
    /// When it rang, in Unix milliseconds.
    private static let rang = "at"
    private static let silence = "silence"
    private static let said = "said"
    /// The app's own: the system's ringtone is for calls alone.
    private static let sound = UNNotificationSound(named: UNNotificationSoundName("ring.wav"))
    private var center: UNUserNotificationCenter { .current() }
    /// Called with what was tapped. Set once, before anything can be.
    @MainActor var opened: ((RingChoice?) -> Void)?
    @MainActor var answered: ((RingChoice, _ rangAt: Moment) async -> Void)?

    override init() {
        super.init()
        center.delegate = self
    }

    /// The system asks the wearer once; after that only its settings can allow it. Refused, the app still shows what there is to do while
    /// it is open.
    func allow() async {
        if await center.notificationSettings().authorizationStatus == .notDetermined {
            _ = try? await center.requestAuthorization(options: [.alert, .sound])
        } else {
            await Self.showSettings()
        }
    }

    @MainActor private static func showSettings() async {
        if let settings = URL(string: UIApplication.openNotificationSettingsURLString) { _ = await UIApplication.shared.open(settings) }
    }

    /// With the time-sensitive ones turned off it is still at night, while the phone keeps others back.
    func mayRing() async -> Bool {
        let settings = await center.notificationSettings()
        return settings.authorizationStatus == .authorized && settings.soundSetting == .enabled && settings.lockScreenSetting == .enabled
            && settings.timeSensitiveSetting == .enabled
    }

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

    func say(_ text: String) {
        remove(Self.said)
        add(Notice(saying: text, at: .device), Self.said, from: 0)
    }

    func quiet() {
        remove(Self.ring)
        // Whoever answers has seen it; the next one that is set ahead stays.
        center.removeDeliveredNotifications(withIdentifiers: Self.ids(Self.silence))
    }

    func callAgain(_ notice: Notice?, at: Moment) {
        remove(Self.silence, onlyPending: true)
        let seconds = Double(at.unixMs) / 1000 - Date().timeIntervalSince1970
        if let notice { add(notice, Self.silence, from: max(seconds, 1)) }
    }

    /// One for each time it sounds.
    private func add(_ notice: Notice, _ name: String, from seconds: Double) {
        let content = UNMutableNotificationContent()
        (content.title, content.body) = (notice.title, notice.text)
        content.sound = notice.isSilent ? nil : notice.isLoud ? Self.sound : .default
        content.interruptionLevel = notice.isSilent ? .passive : notice.isLoud ? .timeSensitive : .active
        content.userInfo = [Self.rang: notice.at.unixMs]
        content.categoryIdentifier = Self.category(notice.answers)
        content.threadIdentifier = Self.ring
        for (place, after) in ([0] + notice.again).prefix(Notice.mostSounds).enumerated() {
            let at = seconds + after
            let trigger = at > 0 ? UNTimeIntervalNotificationTrigger(timeInterval: at, repeats: false) : nil
            center.add(UNNotificationRequest(identifier: Self.id(name, place), content: content, trigger: trigger))
        }
    }

    private func remove(_ name: String, onlyPending: Bool = false) {
        let all = Self.ids(name)
        center.removePendingNotificationRequests(withIdentifiers: all)
        if !onlyPending { center.removeDeliveredNotifications(withIdentifiers: all) }
    }

    private static func id(_ name: String, _ place: Int) -> String { "\(name) \(place)" }
    private static func ids(_ name: String) -> [String] { (0..<Notice.mostSounds).map { id(name, $0) } }
    private static func category(_ answers: [RingChoice]) -> String { answers.map(\.id).joined(separator: " ") }

    // With handlers, not `async`: of an `async` method UIKit's own handler is called off the main thread, and UIKit ends an app for that.

    /// It rings with the app on the screen too.
    func userNotificationCenter(
        _ center: UNUserNotificationCenter, willPresent notification: UNNotification,
        withCompletionHandler present: @escaping (UNNotificationPresentationOptions) -> Void
    ) { present([.banner, .list, .sound]) }

    func userNotificationCenter(
        _ center: UNUserNotificationCenter, didReceive response: UNNotificationResponse, withCompletionHandler done: @escaping () -> Void
    ) {
        let (action, request) = (response.actionIdentifier, response.notification.request)
        let (notification, rang) = (request.identifier, request.content.userInfo[Self.rang] as? Int64)
        // It goes to the main actor and nowhere else.
        nonisolated(unsafe) let done = done
        Task { @MainActor in
            await tapped(action, on: notification, rang: rang)
            done()
        }
    }

    /// Whatever was tapped, nothing sounds again.
    @MainActor private func tapped(_ action: String, on notification: String, rang: Int64?) async {
        for one in [Self.silence, Self.ring, Self.said] where notification.hasPrefix(one) { remove(one) }
        if action == UNNotificationDismissActionIdentifier { return }
        // What opens the app notes nothing; what was tapped beside the answers opens it as well.
        let answer = RingChoice(id: action)
        let now = Moment.device
        let rangAt = rang.map { Moment(unixMs: $0, offsetMinutes: now.offsetMinutes) } ?? now
        if let answer, !answer.opensApp { await answered?(answer, rangAt) } else { opened?(answer) }
    }
}
