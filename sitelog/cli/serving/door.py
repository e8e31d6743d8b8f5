"""Who may come in: a name for each browser, and away from this machine a code that is good once."""

import hmac
import secrets
from collections.abc import Callable

LETTERS = "ABCDEFGHJKLMNPQRSTUVWXYZ23456789"  # none that is taken for another
CODE_LETTERS = 8
TRIES = 5  # wrong codes before a new one is shown
LOOPBACK = ("127.0.0.1", "localhost", "::1")


class Door:
    """`show` is told each new code. At a machine's own address no code is asked, as nobody else can reach it."""

    def __init__(self, host: str, show: Callable[[str], object]) -> None:
        self.wants_code = host not in LOOPBACK
        self._show = show
        self._names: dict[str, str] = {}  # by the token that a browser keeps
        self._wrong = 0
        self.code = ""
        if self.wants_code:
            self._renew()

    def _renew(self) -> None:
        letters = "".join(secrets.choice(LETTERS) for _ in range(CODE_LETTERS))
        self.code, self._wrong = f"{letters[:4]}-{letters[4:]}", 0
        self._show(self.code)

    def let_in(self, name: str, code: str) -> str:
        """A token for a browser that gave a name and the right code; "" for one that did not. The code is then used."""
        if self.wants_code and not self._is_right(code):
            self._wrong += 1
            if self._wrong >= TRIES:
                self._renew()
            return ""
        if self.wants_code:
            self._renew()
        token = secrets.token_urlsafe(32)
        self._names[token] = name
        return token

    def _is_right(self, code: str) -> bool:
        typed = "".join(letter for letter in code.upper() if letter in LETTERS)
        return hmac.compare_digest(typed, self.code.replace("-", ""))

    def name_of(self, token: str) -> str:
        """The name that a browser came in with; "" for one that did not come in."""
        return self._names.get(token, "")
