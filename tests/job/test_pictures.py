"""A picture without its time and place is the same picture; what is none, or not whole, is refused in words."""

import struct

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from sitelog.job.photos.picture import broken
from sitelog.job.photos.picture.broken import Broken
from sitelog.job.photos.picture.kinds import bare, kind_of
from sitelog.job.photos.picture.orientation import EXIF, orientation, tiff_of
from tests.job.pictures import HEAD, JFIF, JPEG, PIXELS, SECRET, WEBP, chunk, exif, jpeg, png, riff, segment, webp

ICC = segment(0xE2, b"ICC_PROFILE\0\1\1the colours")
XMP = b"http://ns.adobe.com/xap/1.0/\0<x>" + SECRET + b"</x>"
WITH_SECRETS = {
    "Exif of a JPEG": jpeg(segment(0xE1, EXIF + exif())),
    "XMP of a JPEG": jpeg(segment(0xE1, XMP)),
    "IPTC of a JPEG": jpeg(segment(0xED, b"Photoshop 3.0\x008BIM" + SECRET)),
    "comment of a JPEG": jpeg(segment(0xFE, SECRET)),
    "small picture in a JPEG": jpeg(segment(0xE0, b"JFXX\0\x10" + SECRET)),
    "maker's segment of a JPEG": jpeg(segment(0xE2, b"MPF\0" + SECRET), segment(0xEB, SECRET), segment(0xEF, SECRET)),
    "second picture after a JPEG": jpeg(after=jpeg(segment(0xE1, EXIF + exif()))),
    "Exif of a PNG": png(chunk(b"eXIf", exif())),
    "words of a PNG": png(
        chunk(b"tEXt", b"Author\0" + SECRET), chunk(b"iTXt", b"XML:com.adobe.xmp\0\0\0\0\0" + SECRET)
    ),
    "packed words of a PNG": png(chunk(b"zTXt", b"Comment\0\0" + SECRET)),
    "time of a PNG": png(chunk(b"tIME", SECRET[:7])),
    "a chunk of somebody's own in a PNG": png(chunk(b"prVt", SECRET)),
    "after the end of a PNG": png(after=SECRET),
    "Exif of a WebP": webp(riff(b"EXIF", exif()), flags=0x08),
    "XMP of a WebP": webp(riff(b"XMP ", SECRET), flags=0x04),
    "a chunk of somebody's own in a WebP": webp(riff(b"mine", SECRET)),
    "after the end of a WebP": webp(after=SECRET),
}
PLAIN = {"jpeg": JPEG, "png": png(), "webp": WEBP}


@pytest.mark.parametrize("name", WITH_SECRETS)
def test_time_place_and_maker_are_left_out_and_the_picture_is_as_it_was(name: str) -> None:
    raw = WITH_SECRETS[name]
    kind, found = bare(raw)
    secret = SECRET[:7] if "time of a PNG" in name else SECRET
    assert secret in raw
    assert secret not in found
    assert found == {"jpeg": JPEG, "png": png(), "webp": webp()}[kind]


@pytest.mark.parametrize("kind", PLAIN)
def test_a_picture_with_nothing_to_leave_out_stays_byte_for_byte(kind: str) -> None:
    assert bare(PLAIN[kind]) == (kind, PLAIN[kind])


def test_colours_stay() -> None:
    """ICC.1:2010, B.4; the Adobe segment says how three components are turned into red, green and blue."""
    kept = jpeg(ICC, segment(0xEE, b"Adobe\0\x64\0\0\0\0\1"))
    assert bare(kept)[1] == kept
    colours = png(chunk(b"gAMA", struct.pack(">I", 45455)), chunk(b"iCCP", b"x\0\0colours"), chunk(b"pHYs", bytes(9)))
    assert bare(colours)[1] == colours
    coloured = webp(riff(b"ICCP", b"colours"), flags=0x20)
    assert bare(coloured)[1] == coloured


@pytest.mark.parametrize("order", "<>")
@pytest.mark.parametrize("turned", range(2, 9))
def test_a_picture_that_is_turned_stays_turned_and_says_nothing_else(turned: int, order: str) -> None:
    """Exif 2.32, tag 0112 (from memory): 3 is upside down, 6 and 8 lie on a side, the others are mirrored."""
    data = exif(turned, order)
    assert bare(jpeg(segment(0xE1, EXIF + data)))[1] == jpeg(segment(0xE1, EXIF + tiff_of(turned)))
    assert bare(png(chunk(b"eXIf", data)))[1] == png(chunk(b"eXIf", tiff_of(turned)))
    both = webp(riff(b"EXIF", data), riff(b"XMP ", SECRET), flags=0x0C)
    assert bare(both)[1] == webp(riff(b"EXIF", tiff_of(turned)), flags=0x08)
    assert orientation(tiff_of(turned)) == turned
    assert bare(jpeg(segment(0xE1, XMP), segment(0xE1, EXIF + data)))[1] == bare(jpeg(segment(0xE1, EXIF + data)))[1]


def test_what_is_said_of_the_orientation_is_one_row_and_nothing_follows_it() -> None:
    """TIFF 6.0, section 2 (from memory): head, one row of tag, kind, count and value, and no table after it."""
    assert tiff_of(6).hex(" ", 2) == "4d4d 002a 0000 0008 0001 0112 0003 0000 0001 0006 0000 0000 0000"


def test_only_an_extended_webp_is_turned_by_its_exif() -> None:
    """RFC 9649, 2.7 (from memory)."""
    body = WEBP[8:] + riff(b"EXIF", exif(6))
    assert bare(b"RIFF" + struct.pack("<I", len(body)) + body)[1] == WEBP


OTHER = tiff_of(6).replace(b"\x01\x12", b"\x01\x10", 1)  # one row, of the camera's model


@pytest.mark.parametrize(
    "data", [b"", b"II*\0", exif(9), exif(0), exif(6)[:30], b"MM\0*\xff\xff\xff\xff", OTHER, b"no TIFF at all"]
)
def test_an_orientation_that_cannot_be_read_is_none(data: bytes) -> None:
    assert orientation(data) == 1
    assert bare(jpeg(segment(0xE1, EXIF + data)))[1] == JPEG


def test_a_turned_jpeg_without_a_first_segment_of_its_own_begins_with_exif() -> None:
    raw = b"\xff\xd8" + segment(0xE1, EXIF + exif(6)) + JPEG[2 + len(JFIF) :]
    assert bare(raw)[1] == b"\xff\xd8" + segment(0xE1, EXIF + tiff_of(6)) + JPEG[2 + len(JFIF) :]


def test_a_film_of_frames_keeps_them_and_not_what_is_hidden_between() -> None:
    still = WEBP[12:]
    frame = bytes(16)
    raw = webp(riff(b"ANIM", bytes(6)), riff(b"ANMF", frame + still + riff(b"mine", SECRET)))
    assert bare(raw)[1] == webp(riff(b"ANIM", bytes(6)), riff(b"ANMF", frame + still))


@pytest.mark.parametrize(
    ("raw", "says"),
    [
        (b"%PDF-1.7 ...", "is a PDF, not a JPEG, PNG or WebP photo"),
        (b"\0\0\0\x18ftypheic\0\0\0\0", "is a HEIC photo, not"),
        (b"\0\0\0\x18ftypmp42\0\0\0\0", "is a video, not"),
        (b"GIF89a", "is a GIF, not"),
        (b"II*\0\x08\0\0\0", "is a TIFF or raw photo, not"),
        (b"MM\0*\0\0\0\x08", "is a TIFF or raw photo, not"),
        (b"BM\x46\0\0\0", "is a BMP, not"),
        (b"\0\0\0\x18ftypmif1\0\0\0\0", "is a HEIC photo, not"),
        (b"\0\0\0\x18ftyphevc\0\0\0\0", "is a HEIC photo, not"),
        (b"\0\0\0\x18ftypavif\0\0\0\0", "is an AVIF photo, not"),
        (b"PK\3\4", "is a ZIP archive or a document, not"),
        (b"<svg onload='alert(1)'/>", "is not a JPEG, PNG or WebP photo"),
        (b"#!/bin/sh\n", "is not a JPEG"),
        (b"RIFF\0\0\0\0WAVE", "is not a JPEG"),
        (b"\xff\xd8\xff\xd9", "doesn't have a picture in it"),
        (b"\xff\xd8" + JFIF + b"\xff\xd9", "doesn't have a picture in it"),
        (b"\xff\xd8\xff\xe1\0\1", "a length"),
        (JPEG[:20] + b"words" + JPEG[20:], "doesn't start where it should"),
        (b"\xff\xd8" + JFIF + segment(0xC0, bytes(9)) + b"\xff\xd9", "doesn't have a picture in it"),
        *(
            (JPEG[:20] + bytes((0xFF, mark)) + JPEG[20:], "starts in the wrong place")
            for mark in (0, 1, 0xD0, 0xD7, 0xD8)
        ),
        (JPEG[:-2], "stops before its end"),
        (JPEG[:30], "stops before its end"),
        (b"\x89PNG\r\n\x1a\n" + HEAD + chunk(b"IEND", b""), "doesn't have a picture in it"),
        (b"\x89PNG\r\n\x1a\n" + chunk(b"IDAT", PIXELS) + HEAD + chunk(b"IEND", b""), "doesn't have a picture in it"),
        (png()[:-12], "stops before its end"),
        (png(chunk(b"CgXY", b"own")), "a part that no PNG"),
        (png(chunk(b"1234", b"own")), "doesn't have a name"),
        (png().replace(PIXELS, bytes(len(PIXELS))), "of it has been changed"),
        (b"RIFF\x04\0\0\0WEBP", "doesn't have a picture in it"),
        (WEBP[:-1], "stops before its end"),
        (webp(riff(b"ICCP", b"colour"))[:-14], "stops before its end"),
        (b"RIFF\x10\0\0\0WEBPVP8L\xff\0\0\0\0\0\0\0", "stops before its end"),
    ],
)
def test_what_is_no_whole_picture_is_told_in_words(raw: bytes, says: str) -> None:
    with pytest.raises(Broken, match=says):
        bare(raw)


@pytest.mark.parametrize("kind", PLAIN)
def test_a_picture_cut_off_anywhere_is_refused(kind: str) -> None:
    for end in range(len(PLAIN[kind])):
        with pytest.raises(Broken):
            bare(PLAIN[kind][:end])


def test_a_file_of_nothing_but_small_parts_does_not_fill_the_memory(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(broken, "MOST_PARTS", 50)
    for raw in (jpeg(*[segment(0xE5, b"")] * 60), png(*[chunk(b"prVt", b"")] * 60), webp(*[riff(b"mine", b"")] * 60)):
        with pytest.raises(Broken, match="too many parts"):
            bare(raw)


def test_a_scan_may_hold_restarts_stuffed_and_filling_bytes() -> None:
    """ITU-T T.81, B.1.1.2, B.1.1.5 and F.1.2.3."""
    scan = b"\x12\xff\x00\x34\xff\xd0\x56\xff\xd7\xff\xff\x00"
    raw = JPEG[:-2] + scan + b"\xff\xff\xd9"
    assert bare(raw + SECRET)[1] == raw


HEADS = st.sampled_from(
    [JPEG[:2], JPEG[:20], JPEG, png()[:8], png(), b"RIFF\x40\0\0\0WEBP", WEBP, webp(riff(b"EXIF", exif(6)))]
)


@settings(max_examples=400, deadline=None)
@given(head=HEADS, tail=st.binary(max_size=80), cut=st.integers(0, 400))
def test_whatever_stands_in_a_file_it_is_refused_in_words_or_comes_out_whole(
    head: bytes, tail: bytes, cut: int
) -> None:
    raw = head[:cut] + tail + head[cut:]
    try:
        kind, found = bare(raw)
    except Broken:
        return
    assert kind_of(found) == kind == kind_of(raw)
    assert bare(found) == (kind, found), "what came out once comes out again as it is"


@settings(max_examples=200, deadline=None)
@given(
    parts=st.lists(
        st.tuples(st.sampled_from([0xE1, 0xE2, 0xE5, 0xED, 0xEF, 0xFE]), st.binary(max_size=30)), max_size=6
    ),
    turned=st.integers(0, 9),
)
@example(parts=[(0xE2, b"ICC_PROFILE\0")], turned=0)
@example(parts=[(0xFE, b"a street"), (0xE2, b"ICC_PROFILE\0\1\1"), (0xE2, b"no profile")], turned=6)
def test_no_segment_of_an_application_but_the_picture_s_own_is_left(
    parts: list[tuple[int, bytes]], turned: int
) -> None:
    """Held by a reading of its own: the marks of the segments, by their lengths, up to the scan."""
    raw = jpeg(segment(0xE1, EXIF + exif(turned)), *(segment(marker, payload) for marker, payload in parts))
    found = bare(raw)[1]
    at, marks = 2, [0]
    while marks[-1] != 0xDA:
        marks.append(found[at + 1])
        at += 2 + int.from_bytes(found[at + 2 : at + 4], "big")
    colours = [marker for marker, payload in parts if marker == 0xE2 and payload.startswith(b"ICC_PROFILE\0")]
    own = [0xE0, *([0xE1] if 2 <= turned <= 8 else []), *colours, 0xDB, 0xC0, 0xC4, 0xC4, 0xDA]
    assert marks[1:] == own
    assert found[at:] == JPEG[JPEG.index(b"\xff\xda") + 10 :], "the scan is byte for byte the same"
