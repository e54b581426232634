"""The tests of faultree; the folders mirror the package, see `oracles`, `published` and `benchmarks` for the rest."""
