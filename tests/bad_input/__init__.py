"""What goes wrong: files that are no text, numbers no kitchen has, recipes in circles, command lines with slips. Each gets
one clear finding or one line, in bounded time and memory, and never a traceback."""
