"""`python -m mendgauge` is the command `mendgauge`."""

import sys

from mendgauge.cli import main

sys.exit(main())
