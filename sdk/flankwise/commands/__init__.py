"""The commands at a shell: one module each, with `add_to(parser)` and `run(client, options)`."""
