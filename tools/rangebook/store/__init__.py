"""What was computed, kept by content for the next run. It knows nothing of books."""
