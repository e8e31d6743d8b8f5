"""What the page for a firm's foreman shows can be copied out and used as it stands."""

import re
from pathlib import Path

from sitelog.checklist.load import lint, load
from sitelog.checklist.schema.shipped import shipped_folder

README = Path(__file__).parents[2] / "checklists" / "README.md"
STAGE = '\n[[stage]]\nid = "lift"\ntitle = "Lifting"\nshort = "lift"\nwhy = "A swinging timber hurts."\n\n'
SOURCE = '\n[[source]]\nid = "firm-lift"\ntitle = "House rule: a tag line on every lift"\nhow = "judgement"\n'


def test_the_checks_and_the_caution_shown_are_a_stage_without_fault(tmp_path: Path) -> None:
    blocks = re.findall(r"```toml\n(.*?)```", README.read_text(encoding="utf-8"), re.DOTALL)
    cautions = next(block for block in blocks if block.startswith("[[caution]]"))
    checks = [block for block in blocks if block.startswith("[[stage.check]]")]
    shipped = (shipped_folder() / "gabled.toml").read_text(encoding="utf-8")
    (tmp_path / "gabled.toml").write_text(shipped + STAGE + "\n".join(checks), encoding="utf-8")
    (tmp_path / "cautions.toml").write_text(cautions + SOURCE, encoding="utf-8")
    assert lint([tmp_path]) == []
    found = load([tmp_path]).lists["gabled"].stages[-1]
    assert [check.id for check in found.checks] == ["tails", "clear", "twist"]
    assert found.checks[1].cautions == ("firm-lift",)
    assert found.checks[2].calculator == "twist"
