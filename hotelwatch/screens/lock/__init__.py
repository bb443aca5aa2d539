"""Who sits at the desk, and the locked screen."""
