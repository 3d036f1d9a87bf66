"""What pages and client data have in common: answers, chains and sources in words, ready to be shown."""
