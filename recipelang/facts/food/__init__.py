"""Facts about a food by itself: what its lines say, and what follows from the item that it is cut or drained from."""
