"""The one entry for command line, server and tests. Only this layer opens the user's files."""
