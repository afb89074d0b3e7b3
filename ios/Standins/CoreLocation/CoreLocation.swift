// A stand-in for what Trug uses of Core Location; see CoreGraphics.swift. From memory, with Apple's names.
@_exported import Foundation

/// CLLocationCoordinate2D
public struct CLLocationCoordinate2D: Sendable {
    public let latitude: Double
    public let longitude: Double
}

/// CLLocation: coordinate, horizontalAccuracy, timestamp
public final class CLLocation: NSObject, @unchecked Sendable {
    public let coordinate = CLLocationCoordinate2D(latitude: 0, longitude: 0)
    public let horizontalAccuracy = 0.0
    public let timestamp = Date()
}

/// CLAuthorizationStatus
public enum CLAuthorizationStatus: Sendable {
    case notDetermined
    case restricted
    case denied
    case authorizedAlways
    case authorizedWhenInUse
}

/// CLActivityType
public enum CLActivityType: Sendable {
    case other
}

/// kCLLocationAccuracyBest
public let kCLLocationAccuracyBest = -1.0

/// CLLocationManagerDelegate
public protocol CLLocationManagerDelegate: AnyObject {
    /// locationManagerDidChangeAuthorization(_:)
    func locationManagerDidChangeAuthorization(_ manager: CLLocationManager)
    /// locationManager(_:didUpdateLocations:)
    func locationManager(_ manager: CLLocationManager, didUpdateLocations locations: [CLLocation])
    /// locationManager(_:didFailWithError:)
    func locationManager(_ manager: CLLocationManager, didFailWithError error: any Error)
}

/// CLLocationManager
public final class CLLocationManager: NSObject {
    public weak var delegate: (any CLLocationManagerDelegate)?
    public var desiredAccuracy = 0.0
    public var activityType = CLActivityType.other
    /// authorizationStatus
    public var authorizationStatus = CLAuthorizationStatus.notDetermined

    /// requestWhenInUseAuthorization()
    public func requestWhenInUseAuthorization() {}
    /// startUpdatingLocation()
    public func startUpdatingLocation() {}
    /// stopUpdatingLocation()
    public func stopUpdatingLocation() {}
}
