"""What the tool computes, one fact a figure: `ls` is the list. Facts read facts; rules, outputs and editors read them."""
