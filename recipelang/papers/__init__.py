"""Papers as plain data: what stands on a card, with every text made and every figure taken from a fact. Printers only print."""
