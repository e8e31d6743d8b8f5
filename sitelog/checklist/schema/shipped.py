"""Where checklists stand: the shipped ones beside the package, or inside it once installed; a firm's beside the job."""

import os
from pathlib import Path

from sitelog.refusal import Refusal

MOST_BYTES = 1 << 18  # of one file: three times the longest that is shipped


def shipped_folder() -> Path:
    """The folder of the shipped checklists. Raises Refusal if the installation lacks it."""
    return _folder("checklists")


def sample_folder() -> Path:
    """The folder of the sample site. Raises Refusal if the installation lacks it."""
    return _folder("sample_site")


def earlier_folders() -> list[Path]:
    """The shipped checklists of earlier days, the last day first, for jobs that kept no more than their digests."""
    return sorted((folder for folder in (shipped_folder() / "earlier").glob("*") if folder.is_dir()), reverse=True)


def firm_folders(job_file: Path) -> list[Path]:
    """The folder `checklists` beside a job, if there is one and it is not the shipped one."""
    beside = Path(os.path.realpath(job_file)).parent / "checklists"  # which takes links in a circle as they are
    if beside.is_dir() and beside != shipped_folder():
        return [beside]
    return []


def toml_files(path: Path) -> list[Path]:
    """The TOML files of a folder, in order of their names; or the file itself."""
    try:
        if path.is_dir():
            return sorted(path.glob("[!.]*.toml"))
        return [path]
    except (OSError, ValueError):
        return [path]


def _folder(name: str) -> Path:
    package = Path(__file__).resolve().parents[2]
    for folder in (package / "data" / name, package.parent / name):
        if folder.is_dir():
            return folder
    raise Refusal(f"the folder {name} is missing from the installation; install sitelog again")
