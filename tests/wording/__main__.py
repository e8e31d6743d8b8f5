"""`python -m tests.wording` keeps the page of refusals as it is now: read what changed, as somebody on a roof would."""

from tests.wording.refusals import FILE, page

if __name__ == "__main__":
    FILE.write_text(page(), encoding="utf-8")
