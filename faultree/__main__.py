"""`python -m faultree`: the command line without an installed script."""

from faultree.cli.main import main

if __name__ == "__main__":
    main()
