"""The whole job: one request in, limits to checked program out, by composing the other folders."""
