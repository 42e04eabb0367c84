"""What people see, each made from the finished recipe alone."""
