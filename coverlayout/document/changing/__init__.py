"""What would make a job fit: single changes of the project, tried and ranked."""
