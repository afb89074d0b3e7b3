import SwiftUI
import TrugModel
import UIKit

/// A field that keeps what is typed into it.
struct FieldView: View {
    let field: Field
    var isCentred = false
    @FocusState private var isTyped: Bool
    @Environment(\.ink) private var ink

    var body: some View {
        TextField(
            field.label, text: Binding(get: { field.text }, set: { field.type($0) }), axis: field.kind.isTall ? .vertical : .horizontal
        )
        .font(.title2)
        .foregroundStyle(ink.text.color)
        .multilineTextAlignment(isCentred ? .center : .leading)
        .keyboardType(field.kind.keyboard)
        .textInputAutocapitalization(field.kind.isExact ? .never : .sentences)
        .autocorrectionDisabled(field.kind.isExact)
        .submitLabel(.done)
        .focused($isTyped)
        .onSubmit { field.submit() }
        .onChange(of: isTyped) { _, has in field.focus(has) }
        .onAppear { isTyped = field.opens }
        .frame(minHeight: Measure.target)
        .overlay(alignment: .bottom) { RuleView() }
        .accessibilityLabel(field.label)
        .toolbar {
            ToolbarItemGroup(placement: .keyboard) {
                // A keyboard of figures has no key that ends it.
                if isTyped {
                    Spacer()
                    Button(Words.App.done) { isTyped = false }
                }
            }
        }
    }
}

extension Field.Kind {
    var keyboard: UIKeyboardType {
        switch self {
        case .whole: .numberPad
        case .decimal: .decimalPad
        case .text, .lines, .name, .code, .secret: .default
        }
    }
}

/// A whole number: typed, or one more and one fewer.
struct CounterView: View {
    let counter: Counter
    @Environment(\.ink) private var ink

    var body: some View {
        HStack(spacing: Measure.gap) {
            SayingView(words: counter.label, tone: .plain).frame(maxWidth: .infinity, alignment: .leading).accessibilityHidden(true)
            step("−", counter.fewer, -1)
            FieldView(field: counter.field, isCentred: true).frame(width: Measure.target * 1.5)
            step("+", counter.more, 1)
        }
    }

    private func step(_ sign: String, _ said: String, _ by: Int) -> some View {
        Button {
            counter.step(by)
        } label: {
            Text(verbatim: sign).font(.title2).foregroundStyle(ink.touch.color)
        }
        .buttonStyle(FrameStyle(line: ink.touch.color))
        .frame(width: Measure.target)
        .accessibilityLabel(said)
    }
}
