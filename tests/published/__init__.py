"""The engine held against values published outside the project, one file per source."""
