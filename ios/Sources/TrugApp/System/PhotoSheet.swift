import Foundation
import PhotosUI
import SwiftUI
import TrugModel

/// The system's picker of photos. It runs outside the app, which sees the one that is chosen and no other, and needs no leave for it.
struct PhotoSheet: UIViewControllerRepresentable {
    let camera: Camera

    func makeUIViewController(context: Context) -> PHPickerViewController {
        var wanted = PHPickerConfiguration()
        wanted.filter = .images
        wanted.selectionLimit = 1
        // As it lies there: what the camera said of it goes with it.
        wanted.preferredAssetRepresentationMode = .current
        let picker = PHPickerViewController(configuration: wanted)
        picker.delegate = context.coordinator
        return picker
    }

    func updateUIViewController(_ picker: PHPickerViewController, context: Context) {}

    func makeCoordinator() -> Coordinator { Coordinator(camera) }

    @MainActor final class Coordinator: NSObject, PHPickerViewControllerDelegate {
        private let camera: Camera

        init(_ camera: Camera) {
            self.camera = camera
        }

        func picker(_ picker: PHPickerViewController, didFinishPicking results: [PHPickerResult]) {
            guard let chosen = results.first?.itemProvider else {
                camera.came(.nothing)
                return
            }
            camera.fetching()
            let camera = camera
            _ = chosen.loadFileRepresentation(forTypeIdentifier: "public.image") { file, _ in
                // The file is gone when this returns: what is handed on is a copy.
                let copy = FileManager.default.temporaryDirectory.appendingPathComponent(UUID().uuidString)
                if let file { try? FileManager.default.copyItem(at: file, to: copy) }
                // Where there is none, that is said.
                Task { @MainActor in camera.came(.chosen(copy)) }
            }
        }
    }
}
