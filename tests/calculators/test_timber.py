"""What timber weighs and when one person should not lift it alone."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitelog.calculators.timber.weights import mass, timber_mass
from sitelog.quantities.quantity import Section
from sitelog.refusal import Refusal

# Thickness, depth, kg a metre in C16 and in C24: BS EN 338:2016, Table 1, mean density 370 and 420 kg/m3,
# times the section; the products worked by hand to 0.01.
A_METRE = [
    (47, 100, 1.74, 1.97),
    (47, 150, 2.61, 2.96),
    (47, 200, 3.48, 3.95),
    (50, 225, 4.16, 4.72),  # 4.1625 and 4.725
    (75, 225, 6.24, 7.09),
]


@pytest.mark.parametrize(("thickness", "depth", "c16", "c24"), A_METRE)
def test_a_metre_of_timber_weighs_its_section_times_the_mean_density(
    thickness: float, depth: float, c16: float, c24: float
) -> None:
    section = Section(thickness, depth)
    for grade, kilos in (("C16", c16), ("C24", c24)):
        answer = mass(section=section, length=1000.0, grade=grade)
        assert answer.results["mass_each"] == pytest.approx(kilos, abs=0.0051)
        assert answer.results["mass_per_metre"] == answer.results["mass_each"]


def test_a_long_hip_weighs_about_23_kilos() -> None:
    """47 x 225 x 5.1 m at 420: 0.047 x 0.225 x 5.1 x 420 = 22.65 kg."""
    answer = mass(section=Section(47, 225), length=5100.0, count=2)
    assert answer.results["mass_each"] == pytest.approx(22.65, abs=0.005)
    assert answer.results["mass_all"] == pytest.approx(45.30, abs=0.005)


# Guideline filters 16 and 25 kg (HSE INDG143 rev 4, from memory): mass, guidelines that the note names.
LIFTS = [(15.9, ()), (16.1, ("16 kg",)), (24.9, ("16 kg",)), (25.1, ("16 kg", "25 kg"))]


@pytest.mark.parametrize(("kilos", "named"), LIFTS)
def test_a_piece_over_a_guideline_weight_is_marked_and_the_guideline_is_not_called_a_limit(
    kilos: float, named: tuple[str, ...]
) -> None:
    answer = mass(section=Section(100, 100), length=2000.0, density=kilos * 50)
    assert answer.results["mass_each"] == pytest.approx(kilos)
    assert answer.cautions == (("heavy-lift",) if named else ())
    told = " ".join(answer.notes)
    assert [kg for kg in ("16 kg", "25 kg") if kg in told] == list(named)
    assert ("not a legal limit)" in told) == bool(named)
    assert answer.verdict is None


def test_a_stack_is_not_lifted_at_once() -> None:
    assert mass(section=Section(47, 100), length=2400.0, count=50).cautions == ()


def test_the_weight_is_said_to_be_dry() -> None:
    assert any("wet" in note for note in mass(section=Section(47, 100), length=2400.0).notes)


def test_a_density_that_is_given_takes_the_place_of_the_grades_and_the_basis_says_so() -> None:
    answer = mass(section=Section(47, 150), length=1000.0, grade="C16", density=500.0)
    assert answer.results["mass_each"] == pytest.approx(0.047 * 0.150 * 500)
    assert answer.basis == "density as typed"
    assert "C16" in mass(section=Section(47, 150), length=1000.0, grade="C16").basis


@given(st.floats(10, 300), st.floats(10, 400), st.floats(1, 12_000), st.floats(1, 12_000))
def test_a_piece_cut_in_two_weighs_what_it_did(thickness: float, depth: float, one: float, other: float) -> None:
    section = Section(thickness, depth)
    parts = timber_mass(section, one, 420) + timber_mass(section, other, 420)
    assert timber_mass(section, one + other, 420) == pytest.approx(parts)


def test_a_grade_that_is_not_held_is_refused_with_those_that_are() -> None:
    with pytest.raises(Refusal, match="C16, C24"):
        mass(section=Section(47, 150), length=3000.0, grade="C30")
