"""Rules about time and temperature. None of them can be switched off; an allowance of one stays in every report."""
