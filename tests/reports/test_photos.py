"""Photos in the pack: copied beside its pages and shown; missing ones on the first page; names told as names only."""

import re
from pathlib import Path

import pytest

from sitelog.job.actions import actions
from sitelog.job.photos.keeping import Picture, keep, look
from sitelog.job.photos.photo import Photo
from sitelog.refusal import NOT_SAVED, Refusal
from sitelog.reports.formats.html import html
from sitelog.reports.formats.text import text
from sitelog.reports.model import PHOTOS, Pack, Table
from sitelog.reports.pack import make, write
from tests.job.pictures import JPEG, png
from tests.reports.site import Site
from tests.shipped import library

CHECK = "main.plates.laps"
FIRST = 'class="first"'


@pytest.fixture
def files(tmp_path: Path) -> Path:
    return tmp_path / "roof.json.files"


@pytest.fixture
def pictures(tmp_path: Path, files: Path) -> list[Picture]:
    found = []
    for name, raw in (("IMG_1.jpg", JPEG), ('b "><script>.png', png())):
        (tmp_path / name).write_bytes(raw)
        found.append(look(tmp_path / name))
    keep(files, found)
    return found


@pytest.fixture
def site(pictures: list[Picture]) -> Site:
    """A job with two photos in a note, and a third of which only the name is known."""
    site = Site()
    photos = [picture.photo for picture in pictures]
    site.do(actions.note(site.state, CHECK, "the far side", photos=photos, photo="IMG_2201"))
    return site


def made(site: Site, files: Path | None) -> Pack:
    return make(site.state, library(), "tiler", site.now, files)


def words(page: str) -> str:
    return " ".join(page.split())


def test_the_page_shows_copies_that_stand_beside_it_and_says_what_they_show(
    site: Site, files: Path, pictures: list[Picture], tmp_path: Path
) -> None:
    out = tmp_path / "pack"
    paths = write(made(site, files), out, "roof")
    assert paths[-1] == out / PHOTOS
    page = (out / "roof-record.html").read_text(encoding="utf-8")
    shown = re.findall(r'<img src="([^"]*)" alt="([^"]+)"', page)
    assert [src for src, _ in shown] == [f"{PHOTOS}/{picture.photo.file}" for picture in pictures]
    assert [(out / src).read_bytes() for src, _ in shown] == [picture.raw for picture in pictures]
    view = site.state.check(CHECK)
    assert view
    assert {alt for _, alt in shown} == {view.check.ask}, "said for who can't see it"
    assert "img-src 'self' file:" in page
    assert "<script>" not in page
    assert "b &quot;&gt;&lt;script&gt;.png" in page


def test_the_text_lists_each_with_its_file_and_a_name_only_as_not_attached(
    site: Site, files: Path, pictures: list[Picture]
) -> None:
    pack = made(site, files)
    told = words(text(pack))
    assert f"{PHOTOS}/{pictures[0].photo.hash[:40]}" in told
    assert f"IMG_1.jpg, {site.entries[-1].by}, " in told
    (section,) = (one for one in pack.rest if one.id == "photos")
    table = section.blocks[-1]
    assert isinstance(table, Table)
    assert [row[1:3] for row in table.rows] == [("IMG_2201", "camera number only, no photo attached")]
    assert "photos missing 0" in told
    assert "PHOTOS THAT ARE MISSING" not in told


@pytest.mark.parametrize(
    ("spoil", "stands"), [(Path.unlink, "MISSING"), (lambda path: path.write_bytes(b"x"), "CHANGED")]
)
def test_a_photo_that_is_missing_or_changed_stands_on_the_first_page_and_is_not_shown(
    site: Site, files: Path, pictures: list[Picture], spoil: object, stands: str
) -> None:
    file = pictures[0].photo.file
    spoil(files / file)  # type: ignore[operator]
    pack = made(site, files)
    (section,) = (one for one in pack.first if one.id == "photos")
    assert f"Photo IMG_1.jpg is {stands}" in str(section)
    assert dict(pack.counts)["photos missing"] == 1
    page = html(pack)
    assert f'src="{PHOTOS}/{file}"' not in page
    assert f'src="{PHOTOS}/{pictures[1].photo.file}"' in page
    assert "photos missing 1" in words(text(pack))


def test_a_pack_made_without_the_job_s_folder_tells_its_photos_as_missing(site: Site) -> None:
    assert dict(made(site, None).counts)["photos missing"] == 2


def test_a_photo_changed_while_the_pack_is_made_is_refused(
    site: Site, files: Path, pictures: list[Picture], tmp_path: Path
) -> None:
    pack = made(site, files)
    (files / pictures[0].photo.file).write_bytes(JPEG + b"x")
    with pytest.raises(Refusal, match=r"Photo IMG_1\.jpg was changed while the pack was made") as refused:
        write(pack, tmp_path / "pack", "roof")
    assert refused.value.code == NOT_SAVED


def test_a_hostile_photo_reads_and_writes_nothing_and_is_not_in_the_pack(site: Site, files: Path) -> None:
    good = Photo(hash="b" * 64, type="jpeg", size=3, name="c.jpg")
    draft = actions.note(site.state, CHECK, "x", photos=[good])
    rows = [{"hash": "../../etc/passwd", "type": "jpeg", "size": 3, "name": "c.jpg"}]
    before = len(made(site, files).photos)
    site.do(type(draft)(act="note", part=draft.part, check=draft.check, note="x", value={"photos": rows}))
    pack = made(site, files)
    assert len(pack.photos) == before
    assert "passwd" not in html(pack)


def test_a_job_without_photos_has_no_section_of_them() -> None:
    pack = Site().pack()
    assert "photos" not in {section.id for section in (*pack.first, *pack.rest)}
    assert "<img" not in html(pack)
