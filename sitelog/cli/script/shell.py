"""What a shell wants of the commands: completion and a manual page, each made from the parser itself."""

import argparse

from sitelog.cli.parser import whole_parser
from sitelog.refusal import DONE, Refusal

NOT_HERE = 'That needs the extra `shell`. Run: pip install "sitelog[shell]"'


def completion(options: argparse.Namespace) -> int:
    """Print the script that a shell reads. Refusal where what makes it isn't installed."""
    try:
        import shtab
    except ImportError:
        raise Refusal(NOT_HERE) from None
    print(shtab.complete(whole_parser(), options.shell))
    return DONE


def manual(options: argparse.Namespace) -> int:
    """Print the manual page, in the language of `man`. Refusal where what makes it isn't installed."""
    try:
        from argparse_manpage.manpage import Manpage
    except ImportError:
        raise Refusal(NOT_HERE) from None
    print(Manpage(whole_parser(), format="single-commands-section"))
    return DONE
