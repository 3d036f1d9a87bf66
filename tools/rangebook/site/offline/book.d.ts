// What `offline/write.py` puts in front of the worker.
declare const BOOK: { mark: string; date: string | null; words: string; digest: string; list: string; edition: string; tops: string[] };
