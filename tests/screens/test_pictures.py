"""The pictures of the handbook: few, all of them shown in it, and none that fetches anything."""

import re
from pathlib import Path
from xml.etree import ElementTree

from tracker.screens.pictures import PICTURES

DOCS = Path(__file__).resolve().parents[2] / "docs"


def test_the_handbook_shows_every_picture_and_no_other() -> None:
    shown = re.findall(r"\(pictures/([a-z-]+)\.svg\)", (DOCS / "using.md").read_text("utf-8"))
    assert sorted(shown) == sorted(picture.name for picture in PICTURES)
    assert len(PICTURES) <= 12


def test_every_picture_stands_alone() -> None:
    for picture in PICTURES:
        text = (DOCS / "pictures" / f"{picture.name}.svg").read_text("utf-8")
        ElementTree.fromstring(text)
        assert "url(http" not in text
        assert "Loomcard" in text
