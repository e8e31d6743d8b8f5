"""The two themes, day for the open and van for the dark, and their scrollbar. Text on its ground is 7:1 or better.

The shades of the states stand some five steps of lightness (CIE L*) apart, so that they differ in grey, too.
"""

from typing import ClassVar

from textual.scrollbar import ScrollBarRender
from textual.theme import Theme

DAY = Theme(
    name="day",
    dark=False,
    primary="#00264d",
    secondary="#00264d",
    accent="#00264d",
    foreground="#000000",
    background="#ffffff",
    surface="#ffffff",
    panel="#ffffff",
    boost="#ffffff",
    warning="#664500",
    error="#b20505",
    success="#000000",
    text_alpha=1.0,
    luminosity_spread=0.0,
    variables={
        "quiet": "#404040",
        "out": "#b20505",
        "unsure": "#664500",
        "snag": "#541d48",
        "hold": "#28004e",
        "let-go": "#002a37",
        "cursor": "#00264d",
        "on-cursor": "#ffffff",
        "field": "#e6e6e6",
        "on-field": "#000000",
    },
)
VAN = Theme(
    name="van",
    dark=True,
    primary="#ffd24d",
    secondary="#ffd24d",
    accent="#ffd24d",
    foreground="#f2f2f2",
    background="#0d0d0d",
    surface="#0d0d0d",
    panel="#0d0d0d",
    boost="#0d0d0d",
    warning="#ffe397",
    error="#ff7c69",
    success="#f2f2f2",
    text_alpha=1.0,
    luminosity_spread=0.0,
    variables={
        "quiet": "#bbbbbb",
        "out": "#ff7c69",
        "unsure": "#ffe397",
        "snag": "#f18ce3",
        "hold": "#d4bfff",
        "let-go": "#9fe1f4",
        "cursor": "#ffd24d",
        "on-cursor": "#000000",
        "field": "#2b2b2b",
        "on-field": "#ffffff",
    },
)
# With NO_COLOR the terminal's own colours are all there is: Textual would otherwise send grey as true colour.
PLAIN = Theme(
    name="plain",
    ansi=True,
    dark=True,
    primary="ansi_default",
    secondary="ansi_default",
    accent="ansi_default",
    foreground="ansi_default",
    background="ansi_default",
    surface="ansi_default",
    panel="ansi_default",
    boost="ansi_default",
    warning="ansi_default",
    error="ansi_default",
    success="ansi_default",
    # The last two are the library's own names, which its stylesheets want of a theme like this.
    variables=dict.fromkeys(
        (*DAY.variables, "ansi-background", "ansi-foreground"),
        "ansi_default",
    ),
)


class WholeBar(ScrollBarRender):
    """A scrollbar in whole cells: no eighths, which a plain terminal has no letters for."""

    VERTICAL_BARS: ClassVar[list[str]] = [" "]
    HORIZONTAL_BARS: ClassVar[list[str]] = [" "]
