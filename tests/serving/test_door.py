"""Who may come in to the screens from a browser."""

from sitelog.cli.serving.door import LETTERS, TRIES, Door


def door(host: str = "192.168.1.20") -> tuple[Door, list[str]]:
    shown: list[str] = []
    return Door(host, shown.append), shown


def test_on_this_machine_a_name_is_enough_and_no_code_is_shown() -> None:
    at_home, shown = door("127.0.0.1")
    token = at_home.let_in("M. Reed", "")
    assert (at_home.name_of(token), at_home.name_of("other"), shown) == ("M. Reed", "", [])


def test_elsewhere_the_code_on_the_screen_lets_one_browser_in() -> None:
    away, shown = door()
    assert away.let_in("M. Reed", "") == ""
    token = away.let_in("M. Reed", shown[0].lower().replace("-", " "))
    assert away.name_of(token) == "M. Reed"
    assert len(shown) == 2, "the next one is shown"
    assert away.let_in("A. Dunn", shown[0]) == "", "it is good once"
    assert away.name_of(away.let_in("A. Dunn", shown[1])) == "A. Dunn"


def test_a_code_that_was_guessed_at_is_changed() -> None:
    away, shown = door()
    for _ in range(TRIES):
        assert away.let_in("M. Reed", "AAAA-AAAA") == ""
    assert len(shown) == 2
    assert away.let_in("M. Reed", shown[0]) == ""


def test_no_letter_of_a_code_is_taken_for_another() -> None:
    assert not set("01IO") & set(LETTERS)
    assert len(LETTERS) ** 8 > 2**39
