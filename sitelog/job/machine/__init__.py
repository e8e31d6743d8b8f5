"""What a machine keeps of jobs outside their folders."""
