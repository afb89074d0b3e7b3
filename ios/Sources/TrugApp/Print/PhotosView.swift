import ImageIO
import SwiftUI
import TrugModel
import UIKit

/// The photos by what they show, and gaps for those that are missing.
struct PhotosView: View {
    let photos: [PhotoCell]
    @Environment(\.ink) private var ink

    var body: some View {
        ScrollView(.horizontal, showsIndicators: false) {
            HStack(spacing: Measure.gap) {
                ForEach(photos) { cell in
                    Button(action: cell.act) {
                        VStack(spacing: 0) {
                            if let picture = cell.picture {
                                PhotoView(path: picture, side: Measure.photo).frame(width: Measure.photo, height: Measure.photo).clipped()
                            }
                            Text(verbatim: cell.label).font(.body).multilineTextAlignment(.center)
                                .foregroundStyle(cell.picture == nil ? ink.touch.color : ink.text.color)
                                .frame(width: Measure.photo)
                        }
                    }
                    .buttonStyle(FrameStyle(line: cell.picture == nil ? ink.touch.color : .clear, height: Measure.photo))
                    .accessibilityLabel(cell.said)
                }
            }
        }
    }
}

/// A picture as wide as the page.
struct PictureView: View {
    let picture: Picture

    var body: some View {
        PhotoView(path: picture.path, side: 1200, isWhole: true)
            .accessibilityElement()
            .accessibilityLabel(picture.said)
            .accessibilityAddTraits(.isImage)
    }
}

/// A photo, read away from the main thread, no larger than it is shown; nothing where it cannot be read.
struct PhotoView: View {
    let path: String?
    /// In points.
    let side: CGFloat
    var isWhole = false
    @State private var image: UIImage?
    @Environment(\.ink) private var ink
    @Environment(\.displayScale) private var scale

    var body: some View {
        Group {
            if let image {
                Image(uiImage: image).resizable().aspectRatio(contentMode: isWhole ? .fit : .fill).colorMultiply(ink.glass)
            } else {
                Color.clear
            }
        }
        .task(id: path) {
            let (path, pixels) = (path, side * scale)
            image = await Task.detached { Self.read(path, pixels) }.value
        }
    }

    /// As large as it is wanted, and upright: cameras write a picture as the phone was held, and beside it how to turn it.
    private nonisolated static func read(_ path: String?, _ pixels: CGFloat) -> UIImage? {
        guard let path, let source = CGImageSourceCreateWithURL(URL(fileURLWithPath: path) as CFURL, nil) else { return nil }
        let wanted: [CFString: Any] = [
            kCGImageSourceCreateThumbnailFromImageAlways: true,
            kCGImageSourceCreateThumbnailWithTransform: true,
            kCGImageSourceThumbnailMaxPixelSize: pixels,
        ]
        return CGImageSourceCreateThumbnailAtIndex(source, 0, wanted as CFDictionary).map { UIImage(cgImage: $0) }
    }
}
