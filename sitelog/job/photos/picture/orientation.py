"""Which way up a picture is shown: the one thing read from its Exif data, and the only one that is kept.

Source: Exif 2.32 (CIPA DC-008-2019), 4.6.4 A, tag Orientation; TIFF 6.0, section 2 (from memory).
"""

import struct

UPRIGHT = 1
EXIF = b"Exif\0\0"  # before the TIFF structure in a JPEG; some writers put it into other pictures too
_TAG, _SHORT = 0x0112, 3
_ORDERS = {b"II*\0": "<", b"MM\0*": ">"}


def orientation(exif: bytes) -> int:
    """1 to 8 as a viewer turns the picture; 1 (as it lies) where the data say nothing, or can't be read."""
    tiff = exif.removeprefix(EXIF)
    order = _ORDERS.get(tiff[:4])
    if order is None:
        return UPRIGHT
    try:
        (at,) = struct.unpack_from(f"{order}I", tiff, 4)
        (count,) = struct.unpack_from(f"{order}H", tiff, at)
        for row in range(count):
            tag, kind, number, value = struct.unpack_from(f"{order}HHIH", tiff, at + 2 + 12 * row)
            if (tag, kind, number) == (_TAG, _SHORT, 1):
                if UPRIGHT <= value <= 8:
                    return int(value)
                return UPRIGHT
    except struct.error:
        pass
    return UPRIGHT


def tiff_of(turned: int) -> bytes:
    """A TIFF structure that says the orientation and nothing else."""
    return b"MM\0*" + struct.pack(">IHHHIHHI", 8, 1, _TAG, _SHORT, 1, turned, 0, 0)
