"""What is asked of a person before something is entered, and what their answers make."""

from collections.abc import Callable, Sequence

from msgspec import Struct

from sitelog.job.log.entry import Draft


class Question(Struct, frozen=True):
    """`start` is what stands there to begin with; `offered` says that it will do as it stands."""

    title: str
    ask: str
    label: str
    start: str = ""
    optional: bool = False
    offered: bool = False


NAME = "name"  # the label of who it is: that is typed each time


class Prompt(Struct, frozen=True):
    """Questions, and the act made of their answers in order.

    `would_do` are answers to prove with, before anybody types a word, that the act can be entered as things stand.
    `signed` says that the last answer is the name that it is entered under. `form` is what its answers are kept under
    while they are typed: a word, then the path; "" keeps none.
    """

    questions: tuple[Question, ...]
    make: Callable[[Sequence[str]], Draft | list[Draft]]
    would_do: tuple[str, ...] = ()
    signed: bool = False
    form: str = ""

    def prove(self) -> None:
        """Refusal if it can't be entered whatever is answered."""
        if self.would_do:
            self.make(self.would_do)


def kept(questions: Sequence[Question], answers: Sequence[str]) -> dict[str, str]:
    """Of the answers what is kept while it is typed, by label: no name, and nothing that stands there anyway."""
    return {
        question.label: answer
        for question, answer in zip(questions, answers, strict=False)
        if question.label != NAME and answer != question.start
    }
