"""Small pictures made for the tests, and the time, place and names that a camera puts into them."""

import base64
import struct
from zlib import compress, crc32

# A grey square of 8 by 8 with one light dot, as an encoder of JPEG and one of WebP wrote it.
JPEG = base64.b64decode(
    "/9j/4AAQSkZJRgABAQAAAQABAAD/2wBDABsSFBcUERsXFhceHBsgKEIrKCUlKFE6PTBCYFVlZF9VXVtqeJmBanGQc1tdhbWGkJ6jq62rZ4C8ybqm"
    "x5moq6T/wAALCAAIAAgBAREA/8QAFAABAAAAAAAAAAAAAAAAAAAAAf/EABgQAAIDAAAAAAAAAAAAAAAAAAARASEx/9oACAEBAAA/AGlks//Z"
)
WEBP = base64.b64decode("UklGRiQAAABXRUJQVlA4TBgAAAAvB8ABAA9wQ/0b6t9Qf/7jAb//j+h/3AM=")
SECRET = b"51.5N 0.1W 2026:11:25 07:00:00 A. Reed"  # what must not be found in a picture without its time and place
JFIF = JPEG[2:20]  # its first segment, which stays the first


def exif(turned: int = 1, order: str = ">") -> bytes:
    """A TIFF structure with a maker, an orientation and a time, in either order of bytes."""
    rows = [(0x010F, 2, len(SECRET), 50), (0x0112, 3, 1, turned), (0x0132, 2, len(SECRET), 50)]
    packed = b"".join(
        struct.pack(f"{order}HHI", tag, kind, count)
        + (struct.pack(f"{order}HH", at, 0) if kind == 3 else struct.pack(f"{order}I", at))
        for tag, kind, count, at in rows
    )
    head = (b"MM\0*" if order == ">" else b"II*\0") + struct.pack(f"{order}IH", 8, len(rows))
    return (head + packed + struct.pack(f"{order}I", 0)).ljust(50, b"\0") + SECRET


def segment(marker: int, payload: bytes) -> bytes:
    return bytes((0xFF, marker)) + struct.pack(">H", len(payload) + 2) + payload


def jpeg(*segments: bytes, after: bytes = b"") -> bytes:
    """The JPEG with segments after its first, and bytes after its end."""
    return JPEG[:20] + b"".join(segments) + JPEG[20:] + after


def chunk(name: bytes, data: bytes) -> bytes:
    return struct.pack(">I", len(data)) + name + data + struct.pack(">I", crc32(name + data))


PIXELS = compress(b"".join(b"\0" + bytes(range(row, row + 8)) for row in range(8)))
HEAD = chunk(b"IHDR", struct.pack(">IIBBBBB", 8, 8, 8, 0, 0, 0, 0))


def png(*chunks: bytes, after: bytes = b"") -> bytes:
    """A PNG of 8 by 8 with chunks between its head and its pixels, and bytes after its end."""
    return b"\x89PNG\r\n\x1a\n" + HEAD + b"".join(chunks) + chunk(b"IDAT", PIXELS) + chunk(b"IEND", b"") + after


def riff(name: bytes, data: bytes) -> bytes:
    return name + struct.pack("<I", len(data)) + data + b"\0" * (len(data) % 2)


def webp(*chunks: bytes, flags: int = 0, after: bytes = b"") -> bytes:
    """The WebP in an extended file, with chunks after the picture, and bytes after its end."""
    body = b"WEBP" + riff(b"VP8X", struct.pack("<I", flags) + bytes((7, 0, 0, 7, 0, 0))) + WEBP[12:] + b"".join(chunks)
    return b"RIFF" + struct.pack("<I", len(body)) + body + after
