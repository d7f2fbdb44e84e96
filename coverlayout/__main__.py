"""`python -m coverlayout` is the command `coverlayout`."""

from __future__ import annotations

import sys

from coverlayout.app.command_line import main

if __name__ == "__main__":
    sys.exit(main())
