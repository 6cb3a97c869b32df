#!/usr/bin/python3
"""Opens driftreach.gpkg and map.kmz of a batch with QGIS (Debian: python3-qgis), without a
display, draws every layer by the style that the file brings, and holds the colours to those
that map.kmz names.

    QT_QPA_PLATFORM=offscreen scripts/qgis_map.py BATCH [PICTURES]

For every sign of every layer one feature is drawn alone on white, by the style in QML, by the
one in SLD, and from the KMZ; the pixel in its middle must be the sign's colour. PICTURES is a
folder for pictures of all layers together, to be looked at."""
import os
import re
import sqlite3
import sys
import zipfile

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
from qgis.core import (QgsApplication, QgsCoordinateReferenceSystem, QgsFeatureRequest,
                       QgsMapRendererParallelJob, QgsMapSettings, QgsRectangle, QgsRuleBasedRenderer, QgsVectorLayer, Qgis)
from qgis.PyQt.QtCore import QSize
from qgis.PyQt.QtGui import QColor
from osgeo import ogr

PIXELS = 120
OFF = 3  # of 255, for each of three channels: rounding
failures = []


def main(batch, pictures):
    application = QgsApplication([], False)
    application.initQgis()
    signs = kml_signs(os.path.join(batch, "map.kmz"))
    package = os.path.join(batch, "driftreach.gpkg")
    checked = sum(package_layer(package, name, signs) for name in styled(package))
    checked += kmz(os.path.join(batch, "map.kmz"), signs)
    if pictures:
        os.makedirs(pictures, exist_ok=True)
        together(package, os.path.join(pictures, "gpkg.png"))
        together(os.path.join(batch, "map.kmz"), os.path.join(pictures, "kmz.png"))
    print(f"QGIS {Qgis.QGIS_VERSION}: {checked} colours held, {len(failures)} differ")
    for failure in failures[:20]:
        print("  " + failure)
    application.exitQgis()
    sys.exit(1 if failures or checked < 20 else 0)


def kml_signs(kmz):
    """Colours of the shared styles of a KMZ: id to what is asked of line, fill and icon."""
    text = zipfile.ZipFile(kmz).read("doc.kml").decode()
    signs = {}
    for name, body in re.findall(r'<Style id="([^"]+)">(.*?)</Style>', text, re.S):
        sign = {}
        for kind in "LineStyle", "PolyStyle", "IconStyle":
            part = re.search(f"<{kind}>(.*?)</{kind}>", body, re.S)
            colour = part and re.search("<color>(..)(..)(..)(..)</color>", part.group(1))
            if colour:
                a, b, g, r = (int(x, 16) for x in colour.groups())
                if kind == "IconStyle" and (r, g, b) == (0x55, 0x55, 0x55):
                    r = g = b = 0  # black, which as a tint would hide the icon's rim
                sign[kind] = (r, g, b, a)
        signs[name] = sign
    return signs


def styled(package):
    """Layers that bring a style."""
    with sqlite3.connect(package) as db:
        return [name for name, in db.execute("SELECT f_table_name FROM layer_styles")]


def package_layer(package, name, signs):
    """Draws a feature of each rule of a layer of the GeoPackage by both of its styles."""
    checked = 0
    with sqlite3.connect(package) as db:
        sld, = db.execute("SELECT styleSLD FROM layer_styles WHERE f_table_name = ?", [name]).fetchone()
    for shape in shapes(package, name):
        layer = QgsVectorLayer(f"{package}|layername={name}{shape}", name, "ogr")
        if not layer.isValid() or not isinstance(layer.renderer(), QgsRuleBasedRenderer):
            failures.append(f"{name}{shape}: no style came with it")
            continue
        kinds = [(rule.ruleKey().rsplit("-", 1)[0], rule.filterExpression(), rule.active())
                 for rule in layer.renderer().rootRule().children()]
        seen = set()
        for sign, where, active in kinds:
            feature = first(layer, where)
            if sign in seen or feature is None or not active:
                continue
            seen.add(sign)
            checked += hold(layer, feature, sign, signs, f"{name} by QML")
        as_sld = QgsVectorLayer(f"{package}|layername={name}{shape}", name, "ogr")
        file = f"/tmp/{os.getpid()}.sld"
        with open(file, "w") as out:
            out.write(sld)
        message, fine = as_sld.loadSldStyle(file)
        os.remove(file)
        if not fine:
            failures.append(f"{name}: the SLD is refused: {message}")
            continue
        for sign, where, active in kinds:
            feature = first(layer, where)
            if feature is not None and active and sign in seen:
                checked += hold(as_sld, feature, sign, signs, f"{name} by SLD", shape != "")
    return checked


def shapes(package, name):
    """The parts of a layer that QGIS opens by themselves, where it holds several kinds of shapes."""
    source = ogr.Open(package)
    layer = source.GetLayerByName(name)
    if layer.GetGeomType() != ogr.wkbUnknown:
        return [""]
    kinds = {feature.GetGeometryRef().GetGeometryName() for feature in layer if feature.GetGeometryRef()}
    return [f"|geometrytype={ {'MULTIPOLYGON': 'MultiPolygon', 'MULTILINESTRING': 'MultiLineString', 'POINT': 'Point', 'MULTIPOINT': 'MultiPoint'}[k]}" for k in sorted(kinds)]


def first(layer, where):
    request = QgsFeatureRequest().setFilterExpression(where) if where else QgsFeatureRequest()
    for feature in layer.getFeatures(request):
        if not feature.geometry().isNull():
            return feature
    return None


def hold(layer, feature, sign, signs, told, outlined=False, hollow=False):
    """Draws the surroundings of a feature and holds the pixel in its middle to the sign's colour.
    Areas may be drawn as their outlines; of points that are drawn hollow a pixel near counts."""
    want = expected(layer, sign, signs, outlined)
    if want is None:
        return 0
    shape = feature.geometry()
    middle, near = place(shape)
    image = draw([layer], QgsRectangle(middle.x() - near, middle.y() - near, middle.x() + near, middle.y() + near), PIXELS)
    hollow = hollow and layer.geometryType() == 0
    if hollow and want == (0, 0, 0):
        want = (0x55, 0x55, 0x55)
    reach = range(-8, 9) if hollow else [0]
    got = [QColor(image.pixel(PIXELS // 2 + i, PIXELS // 2 + j)).getRgb()[:3] for i in reach for j in reach]
    if not any(max(abs(a - b) for a, b in zip(one, paler(want, ink))) <= OFF for one in got for ink in (range(100, 49, -1) if hollow else [100])):
        failures.append(f"{told}: {sign} is {got[len(got) // 2]}, not {want}")
    return 1


def paler(colour, percent):
    """A colour with so much of it on white, as the edges of thin lines are smoothed."""
    return tuple(255 + (x - 255) * percent / 100 for x in colour)


def expected(layer, sign, signs, outlined):
    """The colour of a sign on white; None where map.kmz does not have it."""
    style = signs.get(sign)
    if style is None:
        return None
    kind = layer.geometryType()
    if kind == 2 and not outlined:
        r, g, b, a = style.get("PolyStyle", (255, 255, 255, 0))
        return tuple(round(255 + (x - 255) * a / 255) for x in (r, g, b))
    if kind == 0:
        colour = style.get("IconStyle")
        return colour and colour[:3]
    return None if kind == 2 else style["LineStyle"][:3]


def place(shape):
    """A place on a shape, and how much around it to draw, degrees."""
    if shape.type() == 2:
        inside = shape.poleOfInaccessibility(1e-6)
        return inside[0].asPoint(), max(inside[1], 1e-6) * 0.9
    if shape.type() == 1:
        line = max(shape.asGeometryCollection() or [shape], key=lambda part: part.length())
        return line.interpolate(line.length() / 2).asPoint(), 1e-4
    return (shape.asMultiPoint()[0] if shape.isMultipart() else shape.asPoint()), 1e-5


def draw(layers, around, pixels, smooth=False):
    settings = QgsMapSettings()
    settings.setLayers(layers)
    settings.setDestinationCrs(QgsCoordinateReferenceSystem("EPSG:4326"))
    settings.setExtent(around)
    settings.setOutputSize(QSize(pixels, pixels))
    settings.setOutputDpi(96)
    settings.setBackgroundColor(QColor("white"))
    settings.setFlag(QgsMapSettings.Antialiasing, smooth)
    settings.setFlag(QgsMapSettings.DrawLabeling, smooth)  # numbers would lie on what is looked at
    job = QgsMapRendererParallelJob(settings)
    job.start()
    job.waitForFinished()
    return job.renderedImage()


def kmz(file, signs):
    """Draws a feature of every sign of the KMZ as QGIS opens it."""
    checked = 0
    archive = zipfile.ZipFile(file).read("doc.kml").decode()
    of = dict(re.findall(r"<Placemark><name>([^<]*)</name>.*?<styleUrl>#([^<]+)</styleUrl>", archive))
    for layer in sublayers(file):
        seen = set()
        for feature in layer.getFeatures():
            sign = of.get(str(feature["Name"]).replace("&", "&amp;"))
            if sign in seen or sign not in signs or feature.geometry().isNull():
                continue
            seen.add(sign)
            # QGIS draws the marks of a KML as hollow squares of their colour
            checked += hold(layer, feature, sign, signs, f"map.kmz, {layer.name()}", hollow=True)
    return checked


def sublayers(file):
    out = []
    source = ogr.Open(file)
    for i in range(source.GetLayerCount()):
        name = source.GetLayer(i).GetName()
        base = QgsVectorLayer(f"{file}|layername={name}", name, "ogr")
        out += [base] if base.isValid() and base.isSpatial() else []
    return out


def together(file, picture):
    """All layers in one picture, those that lie under others first."""
    if file.endswith(".kmz"):
        layers = list(reversed(sublayers(file)))
    else:
        order = ["findings", "followup", "points", "stand_parts", "stands", "absent", "notices", "reaches", "survey_next", "network", "aquatic_zone", "looked_at"]
        layers = [QgsVectorLayer(f"{file}|layername={name}", name, "ogr") for name in order if name in styled(file)]
        layers = [layer for layer in layers if layer.isValid() and layer.name() not in ("findings", "followup")]
    around = QgsRectangle()
    for layer in layers:
        if layer.featureCount():
            around.combineExtentWith(layer.extent())
    draw(layers, around, 1600, smooth=True).save(picture)


if __name__ == "__main__":
    if len(sys.argv) not in (2, 3):
        sys.exit(__doc__)
    main(sys.argv[1], sys.argv[2] if len(sys.argv) == 3 else "")
