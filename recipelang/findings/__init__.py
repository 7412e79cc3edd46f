"""What the tool has to say: one record for every rule, and how its words are made. Knows no rule."""
