"""The walk as a pure machine: tables of events, and properties over any sequence of them."""
