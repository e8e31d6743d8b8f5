"""What stands on the screen: its lines as text, and each letter with the colours it is drawn in."""

from collections.abc import Callable, Iterator

from textual.app import App
from textual.color import Color
from textual.pilot import Pilot

KEYS = {" ": "space", ".": "full_stop", ",": "comma", "-": "minus", "/": "slash", ":": "colon", "'": "apostrophe"}
Pair = tuple[str, Color, Color]


def typed(text: str) -> list[str]:
    """The keys that type the text."""
    return [KEYS.get(letter, letter) for letter in text]


def lines(app: App[int]) -> list[str]:
    """The screen on top, line by line."""
    return [strip.text for strip in app.screen._compositor.render_strips()]


def text(app: App[int]) -> str:
    """The screen as words with single spaces, so that a wrapped line is found whole."""
    return " ".join(" ".join(lines(app)).split())


async def until_shown(pilot: Pilot[int], words: str) -> None:
    """Wait for words that are worked out away from the screen; after a minute fail with what stands there."""
    for _ in range(3000):
        await pilot.pause(0.02)
        if words in text(pilot.app):
            return
    raise AssertionError(f"{words!r} is not shown: {text(pilot.app)}")


def letters(app: App[int]) -> Iterator[Pair]:
    """Every run of visible letters with its foreground and background, turned round where it is drawn so."""
    for strip in app.screen._compositor.render_strips():
        for run, style, _ in strip:
            if run.strip() and style and style.color and style.bgcolor:
                fore, back = Color.from_rich_color(style.color), Color.from_rich_color(style.bgcolor)
                yield (run, back, fore) if style.reverse else (run, fore, back)


def contrast(one: Color, other: Color) -> float:
    """The contrast ratio of two colours: WCAG 2.2, definitions of contrast ratio and of relative luminance."""
    low, high = sorted((_luminance(one), _luminance(other)))
    return (high + 0.05) / (low + 0.05)


def _luminance(color: Color) -> float:
    parts = (part / 255 for part in (color.r, color.g, color.b))
    red, green, blue = (part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


async def until(pilot: Pilot[int], there: Callable[[], object]) -> None:
    """Wait for what goes on beside the screen, such as a pack that is being made."""
    for _ in range(3000):
        await pilot.pause(0.02)
        if there():
            return
    raise AssertionError(text(pilot.app))
