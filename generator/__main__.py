"""The command line: ``python -m generator COMMAND``."""

from generator.cli import main

if __name__ == "__main__":
    main(prog_name="generator")
