import Ebbstead
import Presenters
import SwiftUI

/// The answer in one block. How heavy it lies on the screen, and its shape, are the presenter's to say.
struct HeadlineView: View {
    let headline: PromptHeadline
    @Environment(\.theme) private var theme

    var body: some View {
        let look = theme.look(of: headline.verdict.weight)
        VStack(alignment: .leading, spacing: 10) {
            HStack(spacing: 14) {
                SignView(verdict: headline.verdict, ink: look.ink).frame(width: 44, height: 44)
                Prose(headline.word).font(.largeTitle.bold()).accessibilityAddTraits(.isHeader)
            }
            Prose(headline.sentence).font(.title2)
            Each(headline.asides) { Prose($0) }
            if let amount = headline.amount, let reading = headline.reading {
                VStack(alignment: .leading, spacing: 2) {
                    Text(amount).font(.title.bold())
                    Each(headline.accessory) { Prose($0) }
                }
                .accessibilityElement(children: .ignore)
                .accessibilityLabel(reading)
            }
        }
        .padding(.horizontal, 20).padding(.top, 18).padding(.bottom, 28)
        .frame(maxWidth: .infinity, alignment: .leading)
        .foregroundStyle(Color(look.ink))
        .background { TideShape().fill(Color(look.ground)) }
        .overlay { TideShape().stroke(Color(look.ink), lineWidth: look.outline).opacity(look.outline > 0 ? 1 : 0) }
        .accessibilityElement(children: .contain)
        .onChange(of: [headline.word, headline.sentence]) { before, new in
            var said = AttributedString(new.joined(separator: "\n"))
            // Another word is another thing to do; the same one waits for what is being read.
            said.accessibilitySpeechAnnouncementPriority = before.first == new.first ? .low : .high
            AccessibilityNotification.Announcement(said).post()
        }
        .sensoryFeedback(.warning, trigger: headline.word)
    }
}
