"""Rules about a library's files and settings. They check nothing by themselves: whoever reads the files raises them."""
