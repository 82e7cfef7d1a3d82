"""What a picture shows of crotch, toes and wall base."""
