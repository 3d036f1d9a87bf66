"""The book for the time without signal: what a device keeps, the worker that keeps it, and what makes the book installable."""
