import SwiftUI
import TrugModel

/// Asks for a day and an hour.
struct TimeSheet: View {
    let house: House
    @State private var time = Date()
    @Environment(\.ink) private var ink

    var body: some View {
        VStack(alignment: .leading, spacing: Measure.margin) {
            if let wish = house.timeWish {
                HeadView(words: wish.words, isLarge: true)
                DatePicker(wish.words, selection: $time, displayedComponents: wish.withHour ? [.date, .hourAndMinute] : [.date])
                    .datePickerStyle(.graphical)
                    .labelsHidden()
                    .onAppear { time = wish.from }
                Button {
                    house.choose(time)
                } label: {
                    Text(verbatim: Words.App.done).font(.body).bold().foregroundStyle(ink.paper.color)
                }
                .buttonStyle(FrameStyle(line: ink.touch.color, fill: ink.touch.color, height: Measure.thumb))
            }
        }
        .padding(Measure.margin)
        .background(ink.paper.color)
        .presentationDetents([.large])
    }
}
