"""Start Coverlayout from a fresh clone: `python3 resources/start.py` (`--help` tells the rest)."""

import sys

# Plain enough for any old Python to read this far and be told so in one sentence.
if sys.version_info[:2] < (3, 11):  # noqa: UP036 - the one place that may meet an older Python
    sys.stderr.write(
        "Coverlayout needs Python 3.11, 3.12 or 3.13 and this is %d.%d; "  # noqa: UP031 - older Pythons read this
        "start it with a newer one, like: python3.12 resources/start.py\n" % sys.version_info[:2]
    )
    sys.exit(2)

from starting.modes import main

if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
