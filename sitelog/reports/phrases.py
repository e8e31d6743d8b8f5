"""What the pack and the fronts word alike: the rule of a limit, a choice, the path of a check within a text."""

import re

from sitelog.checklist.schema.model import Check

PATH = re.compile(r"\b[a-z0-9-]+(?:\.[a-z0-9-]+){1,2}\b")  # of a check or a stage, within a text
RULE = {"within": "within", "most": "at most", "least": "at least", "over": "more than"}


def choice_label(check: Check, word: object) -> object:
    """The label of a choice; the word itself where the check offers no such choice."""
    return next((choice.label for choice in check.choices if choice.id == word), word)
