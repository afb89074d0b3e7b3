// A stand-in for what Trug uses of Uniform Type Identifiers; see CoreGraphics.swift. From memory, with Apple's names.

/// UTType: item, folder
public struct UTType: Hashable, Sendable {
    let name: String
    public static let item = UTType(name: "item")
    public static let folder = UTType(name: "folder")
}
