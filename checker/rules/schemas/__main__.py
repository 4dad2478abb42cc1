"""Write the published schemas: python -m checker.rules.schemas [--check]."""

import sys

from checker.rules.schemas.published import main

if __name__ == "__main__":
    main(sys.argv[1:])
