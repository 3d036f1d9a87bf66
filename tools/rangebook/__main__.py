"""``python -m rangebook``."""

import sys

from rangebook.cli import main

sys.exit(main())
