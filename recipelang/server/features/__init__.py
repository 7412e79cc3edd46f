"""One module a kind of request. Each gives its methods, their options and their handlers; the server finds them here."""
