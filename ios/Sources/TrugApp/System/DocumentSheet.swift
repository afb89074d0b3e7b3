import Foundation
import SwiftUI
import TrugModel
import UIKit
import UniformTypeIdentifiers

/// The system's picker of documents and folders.
struct DocumentSheet: UIViewControllerRepresentable {
    let house: House

    func makeUIViewController(context: Context) -> UIDocumentPickerViewController {
        let picker =
            if let file = house.documentWish?.kind.file {
                UIDocumentPickerViewController(forExporting: [file], asCopy: true)
            } else {
                UIDocumentPickerViewController(forOpeningContentTypes: house.documentWish?.kind.types ?? [])
            }
        picker.delegate = context.coordinator
        return picker
    }

    func updateUIViewController(_ picker: UIDocumentPickerViewController, context: Context) {}

    func makeCoordinator() -> Coordinator { Coordinator(house) }

    @MainActor final class Coordinator: NSObject, UIDocumentPickerDelegate {
        private let house: House

        init(_ house: House) {
            self.house = house
        }

        func documentPicker(_ picker: UIDocumentPickerViewController, didPickDocumentsAt documents: [URL]) {
            for document in documents.prefix(1) { house.picked(document) }
        }

        func documentPickerWasCancelled(_ picker: UIDocumentPickerViewController) {
            house.wantsDocument = false
        }
    }
}

extension DocumentWish.Kind {
    fileprivate var types: [UTType] {
        switch self {
        case .open: [.item]
        case .folder: [.folder]
        case .save: []
        }
    }
}

/// The system's sheet for handing something to another app.
struct SendSheet: UIViewControllerRepresentable {
    let house: House

    func makeUIViewController(context: Context) -> UIActivityViewController {
        UIActivityViewController(activityItems: house.sent, applicationActivities: nil)
    }

    func updateUIViewController(_ sheet: UIActivityViewController, context: Context) {}
}
