"""`python -m mendgauge_client` is the command `mendgauge-client`."""

import sys

from mendgauge_client.cli.main import main

sys.exit(main())
