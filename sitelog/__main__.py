"""`python -m sitelog` is `sitelog`. Written so that an old Python can read it and say which one is needed."""

import sys

if sys.version_info < (3, 11):  # noqa: UP036 - pip refuses an older one by itself; this is for the folder as it is
    words = "sitelog needs Python 3.11 to 3.13; this is {}.{}. Run it with python3.11, for example.\n"
    sys.stderr.write(words.format(*sys.version_info[:2]))
    sys.exit(2)

from sitelog.cli.run import main

if __name__ == "__main__":
    main()
