"""Where the shipped checklists and the sample site stand: beside the package, or inside it once installed."""

from pathlib import Path

from sitelog.refusal import Refusal


def shipped_folder() -> Path:
    """The folder of the shipped checklists. Raises Refusal if the installation lacks it."""
    return _folder("checklists")


def sample_folder() -> Path:
    """The folder of the sample site. Raises Refusal if the installation lacks it."""
    return _folder("sample_site")


def _folder(name: str) -> Path:
    package = Path(__file__).resolve().parent.parent
    for folder in (package / "data" / name, package.parent / name):
        if folder.is_dir():
            return folder
    raise Refusal(f"the installation has no folder {name}; install sitelog again")
