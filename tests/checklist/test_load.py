"""A firm's folder adds to the shipped checklists or replaces by id; the library says what is in force."""

import hashlib
from pathlib import Path

import pytest

from sitelog.checklist.load import Faults, lint, load
from sitelog.checklist.schema import shipped as whereabouts
from sitelog.checklist.schema.shipped import sample_folder, shipped_folder
from sitelog.checklist.schema.terms import Clause, Condition, Operand, Term
from sitelog.refusal import Refusal
from tests.checklist.small import CAUTIONS, FINISHES, HIPPED, JOB, changed, write


def test_a_list_becomes_the_objects_of_the_model(tmp_path: Path) -> None:
    library = load(shipped=write(tmp_path))
    hipped = library.lists["hipped"]
    sides, straps = hipped.stages[0].checks
    assert [figure.key for figure in sides.figures] == ["ab", "bc", "cd", "da", "ac", "bd"]
    assert sides.figures[0].unit == "mm"
    assert sides.figures[0].sets == "length"
    assert sides.figures[0].drawn == Operand("is", (Term("fact", "length"),))
    assert sides.inputs == {"tape": Operand("is", (Term("value", value="II"),))}
    assert straps.needs == ("sides", "start.drawings")
    assert hipped.sources["code-7.2"].year == "2020"
    assert hipped.stages[1].when == Condition((Clause("pitch", "over", ("15",)), Clause("cut_by", "is", ("hand",))))
    assert library.cautions["open-edge"].question.stop_from == 23
    assert library.cautions["open-edge"].figures == (("rail 950 mm or more above the edge", "edge-law"),)


def test_a_check_with_one_figure_tells_it_in_its_own_keys(tmp_path: Path) -> None:
    moisture = load(shipped=write(tmp_path)).lists["job"].stages[0].checks[0]
    (figure,) = moisture.figures
    assert (figure.key, figure.kind, figure.unit, figure.sets) == ("value", "number", "%", "moisture")
    assert figure.says == moisture.ask
    assert moisture.sets == ""


def test_a_finish_is_a_choice_and_sets_its_facts(tmp_path: Path) -> None:
    library = load(shipped=write(tmp_path))
    (covering,) = library.lists["job"].stages[1].checks
    assert [choice.id for choice in covering.choices] == ["plain-tiles", "slates"]
    assert covering.finishes == "slopes"
    assert covering.sets == "covering"
    assert {name: finish.facts[0].value for name, finish in library.finishes.items()} == {
        "plain-tiles": 65.0,
        "slates": 90.0,
    }


def test_text_is_folded_to_one_clean_line(tmp_path: Path) -> None:
    long = changed(
        "hipped", 'why = "Every later length is worked from these."', 'why = """\nEvery  later\n\tlength."""'
    )
    library = load(shipped=write(tmp_path, hipped=long))
    assert library.lists["hipped"].stages[0].checks[0].why == "Every later length."


def test_every_list_may_cite_the_sources_of_another_file(tmp_path: Path) -> None:
    library = load(shipped=write(tmp_path))
    treated = library.lists["hipped"].stages[1].checks[1]
    assert library.lists["hipped"].sources[treated.sources[0]].title == "Common practice"  # of the job's list


def test_digests_are_those_of_the_bytes(tmp_path: Path) -> None:
    library = load(shipped=write(tmp_path))
    texts = {"job": JOB, "hipped": HIPPED, "cautions": CAUTIONS, "finishes": FINISHES}
    assert library.digests == {name: hashlib.sha256(text.encode()).hexdigest() for name, text in texts.items()}
    assert library.lists["hipped"].digest == library.digests["hipped"]


def firm(folder: Path, **files: str) -> Path:
    folder.mkdir()
    for name, text in files.items():
        (folder / f"{name}.toml").write_text(text, encoding="utf-8")
    return folder


GABLED = HIPPED.replace('"hipped"', '"gabled"').replace("Cut hipped roof", "Cut gabled roof")


def test_a_firm_s_list_stands_beside_the_shipped_ones(tmp_path: Path) -> None:
    library = load([firm(tmp_path / "firm", ours=GABLED)], shipped=write(tmp_path / "shipped"))
    assert library.forms() == ("hipped", "gabled")
    assert list(library.lists) == ["job", "hipped", "gabled"]
    assert [stage.id for stage in library.stages("gabled")] == ["finish", "plates", "rafters"]


def test_a_firm_s_list_of_the_same_id_replaces_the_shipped_one(tmp_path: Path) -> None:
    tighter = changed("hipped", "amount = 10", "amount = 6")
    shipped = write(tmp_path / "shipped")
    library = load([firm(tmp_path / "firm", other=tighter)], shipped=shipped)
    limit = library.lists["hipped"].stages[0].checks[0].limit
    assert limit is not None
    assert limit.amount == 6
    assert library.digests["hipped"] == hashlib.sha256(tighter.encode()).hexdigest()


def test_the_last_folder_has_the_last_word(tmp_path: Path) -> None:
    folders = [firm(tmp_path / name, hipped=HIPPED.replace("Cut hipped roof", name)) for name in ("first", "second")]
    library = load(folders, shipped=write(tmp_path / "shipped"))
    assert library.lists["hipped"].title == "second"


def test_a_firm_s_caution_is_added_or_replaces_by_id(tmp_path: Path) -> None:
    start = CAUTIONS.index("[[caution]]")
    one = CAUTIONS[start : CAUTIONS.index("[[caution]]", start + 1)].replace("Open edge", "Our edges")
    new = one.replace("open-edge", "ladder")
    library = load([firm(tmp_path / "firm", cautions=one + new)], shipped=write(tmp_path / "shipped"))
    assert list(library.cautions) == ["open-edge", "scaffold", "ladder"]
    assert library.cautions["open-edge"].title == "Our edges"
    assert library.digests["cautions"] != hashlib.sha256(CAUTIONS.encode()).hexdigest()


def test_a_form_has_one_list(tmp_path: Path) -> None:
    second = HIPPED.replace('id = "hipped"', 'id = "ours"')
    shipped = write(tmp_path / "shipped")
    with pytest.raises(Faults, match="the form hipped already has a list; replace it by giving its id, hipped"):
        load([firm(tmp_path / "firm", ours=second)], shipped=shipped)


def test_without_the_job_s_list_nothing_is_in_force(tmp_path: Path) -> None:
    shipped = write(tmp_path)
    (shipped / "job.toml").unlink()
    with pytest.raises(Faults) as caught:
        load(shipped=shipped)
    assert any("no list has form" in one for one in caught.value.faults)


def test_all_faults_are_told_at_once_in_order_of_file_and_line(tmp_path: Path) -> None:
    hipped = HIPPED.replace('kind = "pitch"', 'kind = "slope"').replace("three_ways", "three_way")
    job = JOB.replace('kind = "sign"', 'kind = "sing"').replace('title = "Whole job"', "title = 3")
    with pytest.raises(Faults) as caught:
        load(shipped=write(tmp_path, hipped=hipped, job=job))
    found = [(Path(file).stem, int(line)) for file, line, _ in (one.split(":", 2) for one in caught.value.faults)]
    assert found == sorted(found)
    assert {("job", 2), ("hipped", 37), ("hipped", 76)} <= set(found)
    assert caught.value.message == f"{caught.value.faults[0]} (and {len(found) - 1} more)"
    assert isinstance(caught.value, Refusal)


def test_lint_proves_one_list_with_the_shipped_rest(tmp_path: Path) -> None:
    shipped = write(tmp_path / "shipped")
    good = firm(tmp_path / "firm", gabled=GABLED) / "gabled.toml"
    assert lint([good], shipped=shipped) == []
    good.write_text(GABLED.replace('cautions = ["open-edge"]', 'cautions = ["open-edges"]'))
    (told,) = lint([good], shipped=shipped)
    assert told.startswith(f"{good}:")
    assert "unknown caution open-edges; did you mean open-edge?" in told


def test_lint_tells_what_a_list_breaks_elsewhere_but_not_what_was_broken(tmp_path: Path) -> None:
    shipped = write(tmp_path / "shipped", hipped=changed("hipped", 'short = "plates"', "short = 1"))
    renamed = JOB.replace('"moisture"', '"wetness"')
    job = firm(tmp_path / "firm", job=renamed) / "job.toml"
    (told,) = lint([job], shipped=shipped)
    assert told.startswith(f"{shipped / 'hipped.toml'}:")
    assert "unknown fact job.moisture" in told


def test_lint_of_the_shipped_folder_and_of_one_file_in_it(tmp_path: Path) -> None:
    shipped = write(tmp_path, hipped=changed("hipped", 'short = "plates"', "short = 1"))
    (whole,) = lint([shipped], shipped=shipped)
    assert whole.endswith("short is a number; give text")
    assert lint([shipped / "hipped.toml"], shipped=shipped) == [whole]
    assert lint([shipped / "job.toml"], shipped=shipped) == []


def test_two_lists_of_one_folder_can_t_share_an_id(tmp_path: Path) -> None:
    shipped = write(tmp_path / "shipped")
    folder = firm(tmp_path / "firm", a=GABLED, b=GABLED.replace('form = "gabled"', 'form = "gable"'))
    (told,) = lint([folder / "a.toml", folder / "b.toml"], shipped=shipped)
    assert told.startswith(f"{folder / 'b.toml'}:1: gabled is already used, in a.toml, line 1")


def test_the_folders_are_found_beside_the_package_or_within_it(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    assert (shipped_folder() / "job.toml").is_file()
    assert sample_folder().is_dir()
    installed = tmp_path / "sitelog" / "data" / "checklists"
    installed.mkdir(parents=True)
    monkeypatch.setattr(whereabouts, "__file__", str(tmp_path / "sitelog" / "checklist" / "schema" / "shipped.py"))
    assert shipped_folder() == installed
    with pytest.raises(Refusal, match="folder sample_site is missing from the installation; install sitelog again"):
        sample_folder()


def test_the_shipped_checklists_are_without_fault() -> None:
    assert lint([shipped_folder()]) == []
