"""What an editor shows of a library, as plain facts: what stands at a place, where it is declared, what could stand
there, which fixes there are. Knows no protocol."""
