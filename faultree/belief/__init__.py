"""What is likely: evidence, prior, exact and bounded posteriors, explanations and reasons."""
