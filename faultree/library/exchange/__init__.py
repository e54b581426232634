"""Texts of open standards read into tree files, and what is written in them: no file is opened here."""
