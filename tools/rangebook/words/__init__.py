"""All words that people read about an answer, made late: data goes in, text comes out, and nothing that decides ever sees it."""
