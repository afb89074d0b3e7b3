import Foundation
import ImageIO
import SwiftUI
import TrugModel
import UIKit

/// The system's camera. Its photo is written as a JPEG with all that the camera says of it.
struct CameraSheet: UIViewControllerRepresentable {
    let camera: Camera

    func makeUIViewController(context: Context) -> UIImagePickerController {
        let picker = UIImagePickerController()
        picker.sourceType = .camera
        picker.delegate = context.coordinator
        return picker
    }

    func updateUIViewController(_ picker: UIImagePickerController, context: Context) {}

    func makeCoordinator() -> Coordinator { Coordinator(camera) }

    @MainActor final class Coordinator: NSObject, UIImagePickerControllerDelegate, UINavigationControllerDelegate {
        private let camera: Camera

        init(_ camera: Camera) {
            self.camera = camera
        }

        func imagePickerController(
            _ picker: UIImagePickerController, didFinishPickingMediaWithInfo info: [UIImagePickerController.InfoKey: Any]
        ) {
            let image = (info[.originalImage] as? UIImage)?.cgImage
            let about = info[.mediaMetadata] as? [String: Any]
            camera.came(.shot(Self.jpeg(image, about) ?? Data()))
        }

        func imagePickerControllerDidCancel(_ picker: UIImagePickerController) {
            camera.came(.nothing)
        }

        private static func jpeg(_ image: CGImage?, _ about: [String: Any]?) -> Data? {
            let data = NSMutableData()
            guard let image, let file = CGImageDestinationCreateWithData(data as CFMutableData, "public.jpeg" as CFString, 1, nil) else {
                return nil
            }
            CGImageDestinationAddImage(file, image, about as CFDictionary?)
            return CGImageDestinationFinalize(file) ? data as Data : nil
        }
    }
}
