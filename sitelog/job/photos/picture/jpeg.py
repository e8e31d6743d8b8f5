"""A JPEG without its time and place: its segments are gone through, and only those that make the picture are kept.

Source: ITU-T T.81 (1992), B.1 and B.2 for markers and segments; JFIF 1.02 for APP0; ICC.1:2010, B.4 for the colour
profile in APP2 (from memory).
"""

import re
from collections.abc import Iterator, Sequence

from sitelog.job.photos.picture.broken import BREAKS_OFF, Broken, parts
from sitelog.job.photos.picture.orientation import EXIF, UPRIGHT, orientation, tiff_of

_SOI, _EOI, _SOS, _APP0, _APP1, _COM = 0xD8, 0xD9, 0xDA, 0xE0, 0xE1, 0xFE
_FRAMES = frozenset(range(0xC0, 0xD0)) - {0xC4, 0xC8, 0xCC}  # SOF0 to SOF15
# What an application segment must begin with to be kept: frame of JFIF, colour profile, colours of the components.
_KEPT = {_APP0: b"JFIF\0", 0xE2: b"ICC_PROFILE\0", 0xEE: b"Adobe"}
# In the scan a byte of FF is followed by 00 or a restart; FF before FF only fills.
_NEXT_MARKER = re.compile(rb"\xff[^\x00\xff\xd0-\xd7]")

Segment = tuple[int, bytes]  # marker, and all its bytes with whatever scan follows it


def bare_jpeg(raw: bytes) -> bytes:
    """The picture byte for byte, with a segment of Exif that tells its orientation if that is not upright.

    Raises Broken if it breaks off, or a segment is none.
    """
    segments = parts(_segments(raw))
    markers = {marker for marker, _ in segments}
    if not markers & _FRAMES or _SOS not in markers:
        raise Broken("doesn't have a picture in it")
    turned = _turned(segments)
    kept = [(marker, segment) for marker, segment in segments if _is_kept(marker, segment)]
    if turned != UPRIGHT:
        after = 1 if kept[0][0] == _APP0 else 0
        kept.insert(after, (_APP1, _segment(_APP1, EXIF + tiff_of(turned))))
    return b"\xff\xd8" + b"".join(segment for _, segment in kept) + b"\xff\xd9"


def _turned(segments: Sequence[Segment]) -> int:
    """How the picture is turned, by its first segment of Exif."""
    for marker, segment in segments:
        if marker == _APP1 and segment[4:].startswith(EXIF):
            return orientation(segment[4:])
    return UPRIGHT


def _is_kept(marker: int, segment: bytes) -> bool:
    if 0xE0 <= marker <= 0xEF:
        return marker in _KEPT and segment[4:].startswith(_KEPT[marker])
    return marker != _COM


def _segment(marker: int, payload: bytes) -> bytes:
    return bytes((0xFF, marker)) + (len(payload) + 2).to_bytes(2, "big") + payload


def _segments(raw: bytes) -> Iterator[Segment]:
    """Every segment between start and end of the picture, a scan with its coded bytes; what follows is left out."""
    at = 2
    while True:
        marker, at = _marker(raw, at)
        if marker == _EOI:
            return
        if marker in (0x00, 0x01, _SOI) or 0xD0 <= marker <= 0xD7:
            raise Broken("is damaged: a part of it starts in the wrong place")
        end = at + int.from_bytes(raw[at : at + 2], "big")
        if end < at + 2 or end > len(raw):
            raise Broken(BREAKS_OFF if end > len(raw) else "is damaged: a part of it doesn't have a length")
        if marker == _SOS:
            found = _NEXT_MARKER.search(raw, end)
            if found is None:
                raise Broken(BREAKS_OFF)
            end = found.start()
        yield marker, bytes((0xFF, marker)) + raw[at:end]
        at = end


def _marker(raw: bytes, at: int) -> tuple[int, int]:
    """The marker there, fill bytes passed over, and where its segment goes on."""
    if raw[at : at + 1] not in (b"", b"\xff"):
        raise Broken("is damaged: a part of it doesn't start where it should")
    while raw[at : at + 1] == b"\xff":
        at += 1
    if at >= len(raw):
        raise Broken(BREAKS_OFF)
    return raw[at], at + 1
