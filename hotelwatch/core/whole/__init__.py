"""The whole house in one picture: a day by who does what, and how things went over weeks."""
