"""What people ask of a book: look something up, fit a part. Plain data and plain text, no files and no pages."""
