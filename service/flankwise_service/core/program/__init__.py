"""Program: the path as word-address text, and our own reader that proves it.

write_program(setup, operations)       text, proved equal to the path
program_lines(setup, operations)       the same text as a stream of lines, unproved
read_program(text)                     motions, modal states and faults of any such text
replay_equals_path(text, setup, ops)   the proof alone
"""
