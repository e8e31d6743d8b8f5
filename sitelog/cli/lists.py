"""`sitelog lint`: proves checklists and tells every fault at once."""

import argparse
from pathlib import Path

from sitelog.checklist.load import lint as faults_of


def lint(options: argparse.Namespace) -> int:
    """Exit 1 when a fault was found."""
    faults = faults_of([Path(path) for path in options.paths])
    for fault in faults:
        print(fault)
    if not faults:
        print(f"{', '.join(options.paths)}: no faults")
    return 1 if faults else 0
