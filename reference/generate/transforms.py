"""Homogeneous 4 x 4 transforms: x forward, y up, z to the rider's right; angles in degrees."""

import numpy as np


def move(x=0.0, y=0.0, z=0.0):
    matrix = np.eye(4)
    matrix[:3, 3] = (x, y, z)
    return matrix


def _turn(angle_deg, first, second):
    matrix = np.eye(4)
    c, s = np.cos(np.radians(angle_deg)), np.sin(np.radians(angle_deg))
    matrix[first, first] = matrix[second, second] = c
    matrix[second, first], matrix[first, second] = s, -s
    return matrix


def turn_z(angle_deg):
    """Lifts the nose: x turns towards y."""
    return _turn(angle_deg, 0, 1)


def turn_x(angle_deg):
    """y turns towards z."""
    return _turn(angle_deg, 1, 2)


def mirror():
    """Right becomes left."""
    return np.diag([1.0, 1.0, -1.0, 1.0])


def origin_of(matrix):
    return matrix[:3, 3]
