"""`python -m sitelog` is `sitelog`."""

from sitelog.cli.run import main

if __name__ == "__main__":
    main()
