"""What the hotel's own record says of its looks: blind trials, estimates, measured figures."""
