"""Opens each export with a reader that is not ours, and says what it found as JSON."""
import csv, json, sys
import dwca.read, geojson, gpxpy, shapely.geometry

archive, gpx, features, table = sys.argv[1:]
said = {}
with dwca.read.DwCAReader(archive) as reader:
    core = reader.descriptor.core
    said["core_type"] = core.type
    said["terms"] = [field["term"] for field in core.fields]
    said["id_index"] = core.id_index
    said["extensions"] = [[ext.type, ext.coreid_index] for ext in reader.descriptor.extensions]
    said["extension_terms"] = [f["term"] for ext in reader.descriptor.extensions for f in ext.fields]
    rows = list(reader)
    said["dwc_rows"] = [row.data for row in rows]
    said["dwc_ids"] = [row.id for row in rows]
    media = [extension.data for row in rows for extension in row.extensions]
    said["media_rows"] = len(media)
    terms = ["http://purl.org/dc/terms/identifier", "http://purl.org/dc/terms/type", "http://purl.org/dc/terms/format",
             "http://rs.tdwg.org/ac/terms/subjectPart"]
    said["media"] = [[one[term] for term in terms] for one in media]
    names = [one[terms[0]] for one in media]
    said["media_bytes"] = [open(reader.absolute_temporary_path(name), "rb").read(2).hex() for name in names]
parsed = gpxpy.parse(open(gpx, encoding="utf-8"))
said["gpx_version"] = parsed.version
said["waypoints"] = [[point.latitude, point.longitude, point.name] for point in parsed.waypoints]
collection = geojson.load(open(features, encoding="utf-8"))
said["geojson_errors"] = collection.errors()
said["geojson_ids"] = [feature["id"] for feature in collection["features"]]
said["points"] = [
    [p.x, p.y] for p in (shapely.geometry.shape(f["geometry"]) for f in collection["features"] if f["geometry"])
]
said["csv_rows"] = list(csv.DictReader(open(table, encoding="utf-8", newline=""), strict=True))
print(json.dumps(said))
