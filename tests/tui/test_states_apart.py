"""Every state is told apart without colour, in grey, under three kinds of colour blindness, and in plain letters."""

from itertools import combinations

import pytest
from textual.color import Color
from textual.theme import Theme

from sitelog.job.state.marks import CAUTION, CHECK, HERE, HOLD, STAGE, Mark
from sitelog.tui.themes import DAY, VAN
from tests.tui.seen import contrast

STATE_SHADES = sorted({mark.shade for mark in (*CHECK.values(), HOLD)} - {"foreground"})
STATES: dict[str, Mark] = {**{str(k): m for k, m in CHECK.items()}, "hold": HOLD, "caution": CAUTION}
# What a colour becomes for eyes without one kind of cone (severity 1.0), in linear light. Machado, Oliveira and
# Fernandes, A Physiologically-based Model for Simulation of Color Vision Deficiency, IEEE TVCG 15(6), 2009.
# The figures are those of the open library colorspacious 1.1.2, cvd.machado_et_al_2009_matrix.
EYES = {
    "no red": ((0.152286, 1.052583, -0.204868), (0.114503, 0.786281, 0.099216), (-0.003882, -0.048116, 1.051998)),
    "no green": ((0.367322, 0.860646, -0.227968), (0.280085, 0.672501, 0.047413), (-0.011820, 0.042940, 0.968881)),
    "no blue": ((1.255528, -0.076749, -0.178779), (-0.078411, 0.930809, 0.147602), (0.004733, 0.691367, 0.303900)),
    "grey": ((0.2126, 0.7152, 0.0722),) * 3,
}


def seen_by(color: Color, eye: str) -> Color:
    """The colour as those eyes have it."""
    light = [_linear(part / 255) for part in (color.r, color.g, color.b)]
    mixed = [sum(share * part for share, part in zip(row, light, strict=True)) for row in EYES[eye]]
    red, green, blue = (round(255 * _gamma(min(1.0, max(0.0, part)))) for part in mixed)
    return Color(red, green, blue)


def _linear(part: float) -> float:
    return part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4


def _gamma(part: float) -> float:
    return part * 12.92 if part <= 0.0031308 else 1.055 * part ** (1 / 2.4) - 0.055


@pytest.mark.parametrize("plain", [False, True], ids=["glyphs", "plain letters"])
def test_no_two_states_of_a_check_have_the_same_sign_or_the_same_word(plain: bool) -> None:
    for (one, a), (other, b) in combinations(STATES.items(), 2):
        assert a.sign(plain) != b.sign(plain), (one, other)
        assert a.word.casefold() != b.word.casefold(), (one, other)
    assert HERE.sign(plain) not in {mark.sign(plain) for mark in STATES.values()}


def test_plain_letters_are_ascii_and_an_x_that_is_done_is_never_a_wrong_one() -> None:
    for mark in (*STATES.values(), *STAGE.values(), HERE):
        assert mark.ascii.isascii() and len(mark.ascii) == 1 == len(mark.glyph)
    assert CHECK["done"].ascii == "v" and CHECK["out"].ascii == "X"


@pytest.mark.parametrize("theme", [DAY, VAN], ids=lambda theme: theme.name)
@pytest.mark.parametrize("eye", EYES)
def test_every_shade_still_stands_out_of_its_ground_for_those_eyes(theme: Theme, eye: str) -> None:
    """7:1 as the colours are; seen with one kind of cone less, still the 4.5:1 that WCAG 2.2, 1.4.3 asks of text."""
    ground = seen_by(Color.parse(theme.background or ""), eye)
    for name, shade in theme.variables.items():
        if name in ("cursor", "on-cursor", "field", "on-field"):
            continue
        assert contrast(seen_by(Color.parse(shade), eye), ground) >= 4.5, (name, shade)
    for back, fore in (("cursor", "on-cursor"), ("field", "on-field")):
        pair = [seen_by(Color.parse(theme.variables[one]), eye) for one in (back, fore)]
        assert contrast(*pair) >= 4.5, back


@pytest.mark.parametrize("theme", [DAY, VAN], ids=lambda theme: theme.name)
@pytest.mark.parametrize("eye", EYES)
def test_the_row_under_the_cursor_is_turned_round_for_every_eye(theme: Theme, eye: str) -> None:
    cursor, ground = (Color.parse(theme.variables["cursor"]), Color.parse(theme.background or ""))
    assert contrast(seen_by(cursor, eye), seen_by(ground, eye)) >= 3, "WCAG 2.2, 1.4.11"


@pytest.mark.parametrize("theme", [DAY, VAN], ids=lambda theme: theme.name)
def test_the_shades_of_the_states_differ_in_grey(theme: Theme) -> None:
    """By lightness, CIE L* (ISO/CIE 11664-4): two to three is the least that an eye tells side by side; from memory."""
    shades = {name: _lightness(Color.parse(theme.variables[name])) for name in STATE_SHADES}
    for (one, a), (other, b) in combinations(shades.items(), 2):
        assert abs(a - b) >= 4, (one, other)


def _lightness(color: Color) -> float:
    light = contrast(color, Color(0, 0, 0)) * 0.05 - 0.05
    return 116 * light ** (1 / 3) - 16 if light > 0.008856 else 903.3 * light
