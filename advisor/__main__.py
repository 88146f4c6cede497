"""`python -m advisor` is the same door as the command `pitch-advisor`."""

import sys

from advisor.start import main

sys.exit(main())
