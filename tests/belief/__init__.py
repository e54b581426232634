"""Tests of what is likely: prior, evidence, engines and what follows from them."""
