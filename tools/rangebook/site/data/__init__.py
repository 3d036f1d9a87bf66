"""Client data: what the browser loads to find and to show. Every verdict in it was computed here."""
