"""Units that people text in, turned into SI. The definitions are exact (NIST SP 811, appendix B)."""

FEET_M = 0.3048
INCH_M = 0.0254


def celsius_of(fahrenheit: float) -> float:
    """Degrees Fahrenheit in degrees Celsius.

    >>> celsius_of(32.0), round(celsius_of(38.0), 2)
    (0.0, 3.33)
    """
    return (fahrenheit - 32.0) * 5.0 / 9.0


def metres_of(feet: float, inches: float = 0.0) -> float:
    """Feet and inches in metres.

    >>> round(metres_of(7, 6), 3)
    2.286
    """
    return feet * FEET_M + inches * INCH_M
