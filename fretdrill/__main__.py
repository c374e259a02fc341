"""``python -m fretdrill``."""

import sys

from fretdrill.cli import main

sys.exit(main())
