"""`python -m tests.wording` keeps the page of refusals as it is now: read what changed, as somebody on a roof would."""

import os
from tempfile import TemporaryDirectory

from tests.wording.refusals import FILE, page

if __name__ == "__main__":
    with TemporaryDirectory() as state:
        os.environ["XDG_STATE_HOME"] = state  # else what this machine remembers of the same jobs is said too
        FILE.write_text(page(), encoding="utf-8")
