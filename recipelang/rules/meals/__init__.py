"""Rules about meals: what a menu offers each group, by day and by week, in the rules in force on its dates."""
