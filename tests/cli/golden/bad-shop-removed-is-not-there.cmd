trueup shop remove thing clamp
