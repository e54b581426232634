"""Libraries of other systems than aircraft, as new authors write them."""
