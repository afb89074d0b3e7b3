"""Bags by the reference library: `bag.py validate ZIP`, or `bag.py remake ZIP OUT ALGORITHM…`, which makes a bag of the same payload."""

import sys
import tempfile
import zipfile
from pathlib import Path

import bagit


def unpacked(archive, folder):
    with zipfile.ZipFile(archive) as packed:
        packed.extractall(folder)
    return next(Path(folder).iterdir())


def validate(archive):
    with tempfile.TemporaryDirectory() as folder:
        bag = bagit.Bag(str(unpacked(archive, folder)))
        bag.validate()
        print(bag.version, sum(1 for _ in bag.payload_files()), bag.info["Payload-Oxum"])


def remake(archive, out, *algorithms):
    with tempfile.TemporaryDirectory() as folder:
        base = unpacked(archive, folder)
        info = {label: value for label, value in bagit.Bag(str(base)).info.items() if label.startswith("Trug-")}
        payload = base / "data"
        made = Path(folder) / "made"
        payload.rename(made)
        bag = bagit.make_bag(str(made), info, checksums=list(algorithms))
        with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as packed:
            for path in sorted(made.rglob("*")):
                packed.write(path, path.relative_to(made.parent))
        print(bag.version)


{"validate": validate, "remake": remake}[sys.argv[1]](*sys.argv[2:])
