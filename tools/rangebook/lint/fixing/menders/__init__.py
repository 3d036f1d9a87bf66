"""One module for each kind of mend. Each has ``find(page)``, which yields mends, all of them to be made on the same text."""
