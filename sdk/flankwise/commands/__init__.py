"""The commands at a shell: one module each, with `add_to(parser)` and `run(client, options)`."""

DONE, REFUSED, MISUSED, NO_SERVICE, NOBODY_READS = 0, 1, 2, 3, 141
