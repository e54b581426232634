"""Reports: what is handed on, as values first, then as HTML, PDF, Markdown and plain data."""
