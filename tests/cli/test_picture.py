"""The shop's picture: kept with its file, at the head of every page that is printed, and off again."""

import struct
import zlib
from pathlib import Path

import pypdfium2
import pytest
from pypdfium2.raw import FPDF_PAGEOBJ_IMAGE

from tests.cli.conftest import Loomcard


def png(side: int = 40, shade: int = 0) -> bytes:
    """A square of one grey, made by hand (PNG, ISO/IEC 15948: 8 bits, one channel)."""

    def chunk(kind: bytes, data: bytes) -> bytes:
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))

    head = struct.pack(">IIBBBBB", side, side, 8, 0, 0, 0, 0)
    rows = b"".join(b"\0" + bytes([shade]) * side for _ in range(side))
    parts = chunk(b"IHDR", head) + chunk(b"IDAT", zlib.compress(rows)) + chunk(b"IEND", b"")
    return b"\x89PNG\r\n\x1a\n" + parts


@pytest.fixture
def card(loomcard: Loomcard) -> Loomcard:
    loomcard("settings", "change", "--name", "Copperleaf")
    loomcard("book-in", "--customer", "Oona Mirek", "--make", "Halden", "flat")
    return loomcard


def pictures(loomcard: Loomcard, path: Path, *more: str) -> int:
    """How many pictures stand on the first page of a printed job card."""
    said = loomcard("paper", "job-card", "1", "--pdf", str(path), *more)
    assert said.code == 0, said.err
    page = pypdfium2.PdfDocument(path)[0]
    return sum(1 for _ in page.get_objects(filter=[FPDF_PAGEOBJ_IMAGE]))


def test_it_is_on_every_paper_once_it_is_kept_and_the_file_may_go(card: Loomcard, tmp_path: Path) -> None:
    picture, page = tmp_path / "logo.png", tmp_path / "card.pdf"
    assert pictures(card, page) == 0
    picture.write_bytes(png())
    assert card("settings", "picture", str(picture)).code == 0
    picture.unlink()
    assert pictures(card, page) == 1
    assert pictures(card, page, "--letter") == 1
    assert "PNG, " in card("settings").out
    copy = tmp_path / "copy.loomcard"
    assert card("backup", str(copy)).code == 0
    assert card("--file", str(copy), "settings", "--json").json["picture_bytes"] == len(png())
    assert card("settings", "picture", "--off").code == 0
    assert pictures(card, page) == 0
    assert card("undo").code == 0
    assert pictures(card, page) == 1
    assert card("settings", "picture", "--off").code == 0
    assert card("settings", "picture", "--off").code == 1


def test_another_takes_its_place(card: Loomcard, tmp_path: Path) -> None:
    drawn = tmp_path / "mark.svg"
    drawn.write_text(
        '<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9"><path d="M0 0h9v9z"/></svg>'
    )
    first = tmp_path / "first.png"
    first.write_bytes(png())
    card("settings", "picture", str(first))
    assert card("settings", "picture", str(drawn)).code == 0
    assert "SVG, " in card("settings").out
    assert pictures(card, tmp_path / "card.pdf") == 0
    assert card("check").code == 0


@pytest.mark.parametrize(
    ("content", "sentence"),
    [
        (b"%PDF-1.7", "no picture that papers show"),
        (b"", "no picture that papers show"),
        (b"<html><body>svg</body></html>", "no picture that papers show"),
        (png() + bytes(500_000), "at most 500 kB"),
        (None, "could not be read"),
    ],
)
def test_what_is_no_picture_is_refused(
    card: Loomcard, tmp_path: Path, content: bytes | None, sentence: str
) -> None:
    path = tmp_path / "logo.png"
    if content is not None:
        path.write_bytes(content)
    said = card("settings", "picture", str(path), "--json")
    assert said.code == 2
    assert sentence in said.json["error"]["fields"][0]["sentence"]
    assert "picture on papers     none" in card("settings").out


def test_half_a_picture_keeps_no_paper_from_being_printed(card: Loomcard, tmp_path: Path) -> None:
    path = tmp_path / "logo.png"
    path.write_bytes(png()[:40])
    assert card("settings", "picture", str(path)).code == 0
    said = card("paper", "job-card", "1", "--pdf", str(tmp_path / "card.pdf"))
    assert said.code == 0
    assert "The shop's picture cannot be printed" in said.out
    assert (tmp_path / "card.pdf").read_bytes().startswith(b"%PDF-")
