"""Which machine this is: the short name that marks a device's own chain of entries."""

import hashlib
import os
import platform
import re
import sys
from collections.abc import Mapping
from contextlib import suppress
from pathlib import Path

from sitelog.refusal import Refusal

_MACHINE = (Path("/etc/machine-id"), Path("/var/lib/dbus/machine-id"))


def device_id(environ: Mapping[str, str] = os.environ) -> str:
    """Eight characters a-z, 0-9: SITELOG_DEVICE if it is set, else a hash of this machine's own number.

    Two machines set up from one image can share that number: SITELOG_DEVICE tells them apart. `Refusal` 2 if
    it is set to anything else. The machine's number itself is never shown (machine-id(5) asks for that).
    """
    given = environ.get("SITELOG_DEVICE", "")
    if not given:
        return hashlib.sha256(f"sitelog:{_machine()}".encode(errors="replace")).hexdigest()[:8]
    if not re.fullmatch("[a-z0-9]{8}", given):
        raise Refusal("SITELOG_DEVICE must be eight characters, a to z or 0 to 9, such as tablet01.")
    return given


def chance() -> str:
    """Eight hex digits by chance, for the id of what is entered next."""
    return os.urandom(4).hex()


def _machine() -> str:
    for path in _MACHINE:
        with suppress(OSError, UnicodeError):
            text = path.read_text().strip()
            if len(text) == 32:  # an image not yet set up holds nothing, or "uninitialized"
                return text
    return _windows() or f"{platform.node()}:{Path.home()}"


def _windows() -> str:
    if sys.platform == "win32":
        import winreg

        with (
            suppress(OSError),
            winreg.OpenKey(winreg.HKEY_LOCAL_MACHINE, r"SOFTWARE\Microsoft\Cryptography") as key,
        ):
            return str(winreg.QueryValueEx(key, "MachineGuid")[0])
    return ""
