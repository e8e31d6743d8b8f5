"""A WebP without its time and place: only the chunks that make the picture are kept.

Source: RFC 9649 (WebP), 2.3 to 2.7 for the container, its chunks and the flags of VP8X (from memory).
"""

from collections.abc import Iterator, Sequence

from sitelog.job.photos.picture.broken import BREAKS_OFF, Broken, parts
from sitelog.job.photos.picture.orientation import UPRIGHT, orientation, tiff_of

_HEAD = 12  # bytes: RIFF, size, WEBP
_FRAME = 16  # bytes of an ANMF before the chunks inside it
_PICTURES = frozenset((b"VP8 ", b"VP8L", b"ANMF"))
_KEPT = _PICTURES | {b"VP8X", b"ALPH", b"ANIM", b"ICCP"}
_IN_FRAME = frozenset((b"ALPH", b"VP8 ", b"VP8L"))
_EXIF = b"EXIF"
_EXIF_FLAG, _XMP_FLAG = 0x08, 0x04

Chunk = tuple[bytes, bytes]  # name, data


def bare_webp(raw: bytes) -> bytes:
    """The picture, with a chunk of Exif that tells its orientation if that is not upright.

    Raises Broken if it breaks off or holds no picture.
    """
    end = 8 + int.from_bytes(raw[4:8], "little")
    if end > len(raw):
        raise Broken(BREAKS_OFF)
    chunks = parts(_chunks(raw[_HEAD:end]))
    names = {name for name, _ in chunks}
    if not names & _PICTURES:
        raise Broken("doesn't have a picture in it")
    turned = orientation(_exif(chunks))
    kept = [_bare(name, data, turned) for name, data in chunks if name in _KEPT]
    if turned != UPRIGHT:
        kept.append((_EXIF, tiff_of(turned)))
    body = b"WEBP" + b"".join(_chunk(name, data) for name, data in kept)
    return b"RIFF" + len(body).to_bytes(4, "little") + body


def _exif(chunks: Sequence[Chunk]) -> bytes:
    """The Exif that a viewer heeds: that of an extended file (VP8X)."""
    name, data = chunks[0]
    if name != b"VP8X" or not data:
        return b""
    return next((data for name, data in chunks if name == _EXIF), b"")


def _bare(name: bytes, data: bytes, turned: int) -> Chunk:
    if name == b"VP8X" and data:
        flags = data[0] & ~(_EXIF_FLAG | _XMP_FLAG) | (_EXIF_FLAG if turned != UPRIGHT else 0)
        return name, bytes((flags,)) + data[1:]
    if name == b"ANMF":
        inside = (_chunk(inner, picture) for inner, picture in _chunks(data[_FRAME:]) if inner in _IN_FRAME)
        return name, data[:_FRAME] + b"".join(inside)
    return name, data


def _chunk(name: bytes, data: bytes) -> bytes:
    return name + len(data).to_bytes(4, "little") + data + b"\0" * (len(data) % 2)


def _chunks(raw: bytes) -> Iterator[Chunk]:
    """Every chunk of the bytes, which hold nothing else; the odd byte after the last may be left out."""
    at = 0
    while at < len(raw):
        size = int.from_bytes(raw[at + 4 : at + 8], "little")
        end = at + 8 + size
        if end > len(raw):
            raise Broken(BREAKS_OFF)
        yield raw[at : at + 4], raw[at + 8 : end]
        at = end + size % 2
