"""The house rules as tests: form, layers, names, documents."""
