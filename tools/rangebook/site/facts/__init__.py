"""What pages need to know of a book beside its answers: its edition, history, pictures, codes to scan and where it can be edited."""
