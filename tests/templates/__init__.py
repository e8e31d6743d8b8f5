"""Full-size templates against the calculators, the paper and the printer."""
