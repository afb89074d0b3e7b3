"""Writes files to be imported with writers that are not ours, and says what is in them as JSON."""
import json, sys
import geojson, gpxpy.gpx

files = dict(zip(["a10.gpx", "a11.gpx", "a.json"], sys.argv[1:]))
marks = [
    [52.7512345, 0.4012345, "Lidgate <log> & stump", "elder, \u201cby the gate\u201d"],
    [-33.8567, 151.2153, "Sch\u00f6nes T\u00e4lchen", None],
    [0.0, -180.0, None, None],
]
said = {}
for number, (name, version) in enumerate([("a10.gpx", "1.0"), ("a11.gpx", "1.1")]):
    gpx = gpxpy.gpx.GPX()
    said[name] = []
    for latitude, longitude, title, note in marks:
        # Each file marks places of its own.
        latitude += number / 100
        gpx.waypoints.append(gpxpy.gpx.GPXWaypoint(latitude, longitude, name=title, description=note, elevation=12.5))
        said[name].append([latitude, longitude, title, note])
    track = gpxpy.gpx.GPXTrack(name="a way")
    track.segments.append(gpxpy.gpx.GPXTrackSegment([gpxpy.gpx.GPXTrackPoint(1, 2)]))
    gpx.tracks.append(track)
    open(files[name], "w", encoding="utf-8").write(gpx.to_xml(version=version))
features = []
said["a.json"] = []
for latitude, longitude, title, note in marks:
    latitude += 0.05
    features.append(geojson.Feature(geometry=geojson.Point((longitude, latitude), precision=15),
                                    properties={"name": title, "description": note}))
    said["a.json"].append([latitude, longitude, title, note])
features.append(geojson.Feature(geometry=geojson.Polygon([[(0, 52), (1, 52), (1, 53), (0, 52)]]), properties={"name": "drawn"}))
geojson.dump(geojson.FeatureCollection(features), open(files["a.json"], "w", encoding="utf-8"))
print(json.dumps(said))
