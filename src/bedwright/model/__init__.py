"""Plain frozen records that every other package speaks in.

No files, network, clock or web here; every number carries its unit in its name.
SI inside: metres, kilograms, degrees Celsius, millimetres of rain or depth.
"""
