"""Every screen by its name: a page opens another without importing it, and it is loaded only then."""

from importlib import import_module
from typing import Any

from textual.screen import Screen

# The name of a screen, and `module:Class` in this room.
SCREENS: dict[str, str] = {
    "block": "building.block:BlockPage",
    "building": "building.page:BuildingPage",
    "calculator": "pages.calculators:CalculatorPage",
    "calculators": "pages.calculators:CalculatorsPage",
    "caution": "dialogs.caution:CautionPage",
    "check": "pages.check:CheckPage",
    "facts": "pages.facts:FactsPage",
    "find": "dialogs.find:FindPage",
    "handover": "pages.handover:HandoverPage",
    "help": "dialogs.help:HelpPage",
    "instruments": "pages.instruments:InstrumentsPage",
    "job": "pages.job:JobPage",
    "jobs": "pages.jobs:JobsPage",
    "journal": "pages.diary:JournalPage",
    "left": "dialogs.left:LeftPage",
    "lists": "pages.lists:ListsPage",
    "new-job": "pages.new_job:NewJobPage",
    "order": "pages.timber:OrderPage",
    "palette": "dialogs.palette:PalettePage",
    "photos": "pages.photos:PhotosPage",
    "recap": "dialogs.recap:RecapPage",
    "replies": "dialogs.replies:RepliesPage",
    "snags": "pages.snags:SnagsPage",
    "sources": "pages.sources:SourcesPage",
    "templates": "widgets.templates:TemplatesPage",
    "timber": "pages.timber:TimberPage",
    "drawing": "widgets.plan:DrawingPage",
    "drawing-of-answer": "widgets.plan:AnswerPage",
    "whole": "dialogs.whole:WholePage",
    "working": "dialogs.working:WorkingPage",
}


def screen(name: str, *arguments: Any, **named: Any) -> Screen[Any]:
    """A new screen of that name, made with what its class takes. KeyError for a name that is not in the table."""
    return screen_class(name)(*arguments, **named)


def screen_class(name: str) -> type[Screen[Any]]:
    """The class of that name, its module loaded. KeyError as above."""
    module, _, class_name = SCREENS[name].partition(":")
    found: type[Screen[Any]] = getattr(import_module(f"sitelog.tui.{module}"), class_name)
    return found
