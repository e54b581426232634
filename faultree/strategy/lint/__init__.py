"""The lint of meaning: rules that look at a library which already reads well."""
