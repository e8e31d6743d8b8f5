"""Pages as a PDF: vectors, fonts within it, page n of m, and the same bytes for the same job and moment."""

from collections.abc import Iterable, Mapping, Sequence
from functools import cache
from io import BytesIO
from pathlib import Path
from typing import TYPE_CHECKING

from sitelog.drawing.lettering import LETTER, LETTER_WIDTH, lettered
from sitelog.drawing.model import Words, stretched
from sitelog.drawing.svg import MARGIN, PEN, fitted, rows_on_paper
from sitelog.refusal import Refusal
from sitelog.reports.formats.marks import Box, Mark, Page, Photo, Picture, Rule, Text
from sitelog.reports.formats.paper import HIGH, SIDE, WIDE
from sitelog.text import clean

if TYPE_CHECKING:
    from reportlab.pdfgen.canvas import Canvas

FONTS = Path(__file__).with_name("fonts")
PLAIN, BOLD = "DejaVuSans", "DejaVuSans-Bold"
MM = 72 / 25.4  # points in a millimetre
NO_PDF = "No PDF was made: install its library with pip install 'sitelog[sheets]'"
SHARPNESS = 12  # dots of a photo to a mm of paper
MOST_DOTS = 80_000_000  # of a photo that is opened: more than any camera of a site has
CLOSE = 0.001  # mm between where a line stands and where the line above puts it
SMALL = 7.0  # points of the line at the foot

Photos = Mapping[str, bytes]  # the bytes of a photo by its file's name


@cache
def fonts() -> None:
    """The fonts known to the PDF library, and its streams as bytes. Refusal where it is not installed."""
    try:
        from reportlab import rl_config
        from reportlab.pdfbase import pdfmetrics
        from reportlab.pdfbase.ttfonts import TTFont
    except ImportError as error:
        raise Refusal(NO_PDF) from error
    rl_config.useA85 = 0  # as text they take a quarter more of the file, and longer to make
    for name in (PLAIN, BOLD):
        pdfmetrics.registerFont(TTFont(name, str(FONTS / f"{name}.ttf")))


@cache
def widths() -> tuple[Mapping[int, float], Mapping[int, float]]:
    """How wide each letter of the plain and of the bold font is, in thousandths of its size."""
    fonts()
    from reportlab.pdfbase import pdfmetrics

    plain, bold = (pdfmetrics.getFont(name).face.charWidths for name in (PLAIN, BOLD))  # type: ignore[attr-defined]
    return plain, bold


def pdf(pages: Sequence[Page], *, title: str, subject: str, foot: str, photos: Photos | None = None) -> bytes:
    """The pages as one file. `foot` stands at the foot of each, with its number of how many."""
    fonts()
    from reportlab.pdfgen.canvas import Canvas

    raw = BytesIO()
    canvas = Canvas(raw, pagesize=(WIDE * MM, HIGH * MM), invariant=1, pageCompression=1)
    canvas.setTitle(clean(title))
    canvas.setSubject(clean(subject))
    canvas.setCreator("sitelog")
    canvas.setAuthor("sitelog")
    for number, page in enumerate(pages, 1):
        for mark in page.marks:
            _draw(canvas, mark, photos or {})
        _rule(canvas, [mark for mark in page.marks if isinstance(mark, Rule)])
        _write(canvas, [mark for mark in page.marks if isinstance(mark, Text)])
        for place, section in enumerate(page.begins):
            key = f"p{number}-{place}"
            canvas.bookmarkPage(key)
            canvas.addOutlineEntry(clean(section.title), key, 0)
        _foot(canvas, foot, f"{number} of {len(pages)}")
        canvas.showPage()
    canvas.save()
    return raw.getvalue()


def _foot(canvas: "Canvas", foot: str, number: str) -> None:
    y = 9.0 * MM
    canvas.setFont(PLAIN, SMALL)
    canvas.drawString(SIDE * MM, y, shown(clean(foot, most=300)))
    canvas.drawRightString((WIDE - SIDE) * MM, y, f"page {number}")


def _write(canvas: "Canvas", lines: Iterable[Text]) -> None:
    """The lines of text of a page, over all else on it. A line under its own like is put there by the font's step."""
    written = canvas.beginText()
    above: Text | None = None
    for line in lines:
        if above is None or (line.bold, line.size) != (above.bold, above.size):
            written.setFont(BOLD if line.bold else PLAIN, line.size, line.step * MM)
        if above is None or not _follows(line, above):
            written.setTextOrigin(line.x * MM, (HIGH - line.y) * MM)
        written.textLine(shown(line.text))
        above = line
    canvas.drawText(written)


def _follows(line: Text, above: Text) -> bool:
    """Whether the line stands right under the one above, in the same type."""
    alike = (line.x, line.size, line.bold) == (above.x, above.size, above.bold)
    return alike and abs(line.y - above.y - above.step) < CLOSE


def _rule(canvas: "Canvas", rules: Iterable[Rule]) -> None:
    """The straight lines of a page, those of one pen together."""
    by_pen: dict[float, list[tuple[float, float, float, float]]] = {}
    for rule in rules:
        ends = (rule.x * MM, (HIGH - rule.y) * MM, rule.to_x * MM, (HIGH - rule.to_y) * MM)
        by_pen.setdefault(rule.pen, []).append(ends)
    for pen, lines in by_pen.items():
        canvas.setLineWidth(pen * MM)
        canvas.lines(lines)


def _draw(canvas: "Canvas", mark: Mark, photos: Photos) -> None:
    """What stands under the rules and the text."""
    match mark:
        case Box():
            _box(canvas, mark)
        case Picture():
            _picture(canvas, mark)
        case Photo():
            _photo(canvas, mark, photos.get(mark.file))


def _box(canvas: "Canvas", box: Box) -> None:
    canvas.setLineWidth(box.pen * MM)
    canvas.setFillGray(box.tint)
    place = (box.x * MM, (HIGH - box.y - box.high) * MM, box.wide * MM, box.high * MM)
    canvas.rect(*place, stroke=box.tint == 1, fill=box.tint != 1)
    canvas.setFillGray(0)


def _picture(canvas: "Canvas", picture: Picture) -> None:
    """The lines of a drawing, then its words on white, as the page on the screen has them."""
    drawing = stretched(picture.drawing)
    left, _, _, top, scale = fitted(drawing, picture.wide, picture.tallest)

    def at(x: float, y: float) -> tuple[float, float]:
        """A point of the roof in mm from the top left of the page."""
        return picture.x + (x - left) * scale + MARGIN, picture.y + (top - y) * scale + MARGIN

    for line in drawing.lines:
        pen, dashes = PEN[line.stroke]
        canvas.setLineWidth(pen * MM)
        canvas.setLineCap(1 if dashes else 0)
        canvas.setDash([float(dash) * MM for dash in dashes.split()])
        path = canvas.beginPath()
        for number, point in enumerate(line.run):
            x, y = at(*point)
            (path.lineTo if number else path.moveTo)(x * MM, (HIGH - y) * MM)
        canvas.drawPath(path)
    canvas.setDash([])
    canvas.setLineCap(0)
    for words in lettered(drawing, scale):
        _lettering(canvas, words, *at(*words.at))


def _lettering(canvas: "Canvas", words: Words, x: float, y: float) -> None:
    canvas.saveState()
    canvas.translate(x * MM, (HIGH - y) * MM)
    canvas.rotate(words.angle)
    canvas.setFont(PLAIN, LETTER * MM)
    for row, base in rows_on_paper(words, 0.0):
        long = len(row) * LETTER * LETTER_WIDTH
        canvas.setFillGray(1)
        canvas.rect(words.left_of(long) * MM, (-base - LETTER * 0.1) * MM, long * MM, LETTER * 0.9 * MM, 0, 1)
        canvas.setFillGray(0)
        draw = {"start": canvas.drawString, "middle": canvas.drawCentredString, "end": canvas.drawRightString}
        draw[words.anchor](0, -base * MM, shown(clean(row)))
    canvas.restoreState()


def _photo(canvas: "Canvas", photo: Photo, raw: bytes | None) -> None:
    """The photo, no finer than paper shows it; an empty frame for one that can't be opened here."""
    from reportlab.lib.utils import ImageReader

    place = (photo.x * MM, (HIGH - photo.y - photo.high) * MM)
    small = _small(raw, photo) if raw else None
    if small is None:
        canvas.rect(*place, photo.wide * MM, photo.high * MM)
    else:
        image = ImageReader(small)
        canvas.drawImage(image, *place, photo.wide * MM, photo.high * MM, preserveAspectRatio=True, anchor="sw")


def _small(raw: bytes, photo: Photo) -> BytesIO | None:
    """The picture as a JPEG of the size that it is printed at; None where it can't be opened, or is too large."""
    from PIL import Image, ImageOps

    small = BytesIO()
    try:
        with Image.open(BytesIO(raw)) as picture:
            if picture.width * picture.height > MOST_DOTS:
                return None
            picture.draft("RGB", (int(photo.wide * SHARPNESS), int(photo.high * SHARPNESS)))
            turned = ImageOps.exif_transpose(picture).convert("RGB")
            turned.thumbnail((int(photo.wide * SHARPNESS), int(photo.high * SHARPNESS)))
            turned.save(small, "JPEG", quality=85)
    except (OSError, ValueError, SyntaxError, Image.DecompressionBombError):
        return None
    small.seek(0)
    return small


def shown(text: str) -> str:
    """The text with a question mark for each letter that the fonts don't have."""
    if text.isascii() and text.isprintable():
        return text
    known, _ = widths()
    return "".join(letter if ord(letter) in known else "?" for letter in text)
