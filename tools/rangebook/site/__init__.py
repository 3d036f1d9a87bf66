"""The site: the book as pages and client data. The only part of the house that knows of MkDocs; nothing else imports it."""
