"""Studies and timings, run by hand or by name; pytest does not collect them."""

import os

from faultree.cli.main import ONE_THREAD

os.environ.setdefault(*ONE_THREAD)  # what is measured is what a command does
