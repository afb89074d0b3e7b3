"""Line figures as Android's vector drawables. A figure is lines in one colour; anything that would be lost is an error."""

import re
import xml.etree.ElementTree as ET

SVG = "{http://www.w3.org/2000/svg}"
# What a figure's lines may say of themselves, and what Android calls it.
STYLES = {
    "stroke-width": "strokeWidth",
    "stroke-linecap": "strokeLineCap",
    "stroke-linejoin": "strokeLineJoin",
}
# How many numbers a command of a path takes.
TAKES = {"m": 2, "l": 2, "h": 1, "v": 1, "c": 6, "s": 4, "q": 4, "t": 2, "a": 7, "z": 0}
NUMBER = re.compile(r"[\s,]*([+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?)")
FLAG = re.compile(r"[\s,]*([01])")


class Undrawable(Exception):
    """Says which file and which element cannot be drawn."""


def path_data(d):
    """A path with every number set apart: Android's reader knows no flags of an arc that run together, SVG's does."""
    spelled, at = [], 0
    while at < len(d.rstrip()):
        command = re.compile(r"[\s,]*([A-Za-z])").match(d, at)
        if not command or command[1].lower() not in TAKES:
            raise ValueError(f"no command of a path at {at}")
        letter, at = command[1], command.end()
        takes, given = TAKES[letter.lower()], []
        while takes:
            kind = FLAG if letter.lower() == "a" and len(given) % 7 in (3, 4) else NUMBER
            number = kind.match(d, at)
            if not number:
                break
            given.append(float(number[1]))
            at = number.end()
        if (takes == 0 and given) or (takes and (not given or len(given) % takes)):
            raise ValueError(f"{letter} takes {takes} numbers, and has {len(given)}")
        spelled.append(letter + " ".join(f"{round(number, 4):g}" for number in given))
    return "".join(spelled)


def drawable(path):
    """The vector drawable of a figure's file. Its colour is the text's, until code tints it otherwise."""
    root = ET.fromstring(path.read_text(encoding="utf-8"))
    name = path.name
    only(name, root, "svg", {"viewBox", "fill", "stroke", *STYLES})
    if root.get("fill") != "none" or root.get("stroke") != "currentColor":
        raise Undrawable(f"{name}: <svg>: a figure is lines in the current colour, without a fill")
    left, top, width, height = (float(number) for number in root.get("viewBox", "").split())
    if left or top:
        raise Undrawable(f"{name}: <svg>: the viewBox begins at 0 0")
    lines = [
        '<?xml version="1.0" encoding="utf-8"?>',
        '<vector xmlns:android="http://schemas.android.com/apk/res/android"',
        f'    android:width="{width:g}dp" android:height="{height:g}dp"',
        f'    android:viewportWidth="{width:g}" android:viewportHeight="{height:g}"',
        '    android:tint="?android:attr/textColorPrimary">',
    ]
    for element in root:
        only(name, element, "path", {"d", *STYLES})
        try:
            data = path_data(element.get("d", ""))
        except ValueError as error:
            raise Undrawable(f"{name}: <path>: {error}") from error
        style = {android: element.get(svg, root.get(svg)) for svg, android in STYLES.items()}
        style = "".join(f' android:{key}="{value}"' for key, value in style.items() if value)
        lines.append(f'    <path android:pathData="{data}" android:strokeColor="#FF000000"{style}/>')
    return "\n".join([*lines, "</vector>", ""])


def only(name, element, tag, attributes):
    """Refuses any other element, attribute, child or text."""
    shown = element.tag.removeprefix(SVG)
    if element.tag != SVG + tag:
        raise Undrawable(f"{name}: <{shown}>: only paths are drawn")
    if unknown := sorted(set(element.attrib) - attributes):
        raise Undrawable(f"{name}: <{shown}>: {', '.join(unknown)} is not drawn")
    if tag == "path" and len(element):
        raise Undrawable(f"{name}: <{shown}>: has elements within it")


def resource(id_):
    """The name of a figure's resource."""
    return "figure_" + id_.replace("-", "_")
