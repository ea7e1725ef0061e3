"""Damage as a person would outline it on the photo: one polygon round a cluster of pits."""

import cv2
import numpy as np

FEWEST, MOST = 6, 24  # corners
REFINE = 2  # the mask is drawn at this multiple of the picture's resolution


def outline(camera, shapes_on_photo):
    """A polygon in upright px round the projected outlines, or None when none is seen.

    The outlines are filled, bridged where they stand close, and fattened a little: a person
    draws round the cluster with a margin, not along the rims."""
    if not shapes_on_photo:
        return None
    points = np.concatenate(shapes_on_photo)
    size = np.array(camera.size)
    extent = np.ptp(points, axis=0)
    margin = max(4.0, 0.035 * extent.max())
    bridge = max(10.0, 0.22 * extent.max())
    mask = np.zeros(tuple(size[::-1] * REFINE), np.uint8)
    for shape in shapes_on_photo:
        cv2.fillPoly(mask, [np.int32(np.round((shape + 0.5) * REFINE))], 255)
    mask = cv2.morphologyEx(mask, cv2.MORPH_CLOSE, _disc(bridge))
    mask = cv2.dilate(mask, _disc(margin))
    mask = cv2.morphologyEx(mask, cv2.MORPH_OPEN, _disc(margin * 0.8))
    contours, _ = cv2.findContours(mask, cv2.RETR_EXTERNAL, cv2.CHAIN_APPROX_NONE)
    if not contours:
        return None
    contour = max(contours, key=cv2.contourArea)
    return _simplified(contour)[:, 0, :] / REFINE - 0.5


def _disc(radius):
    k = 2 * int(round(radius * REFINE)) + 1
    return cv2.getStructuringElement(cv2.MORPH_ELLIPSE, (k, k))


def _simplified(contour):
    length = cv2.arcLength(contour, True)
    best = contour
    for share in np.geomspace(0.001, 0.05, 40):
        fewer = cv2.approxPolyDP(contour, share * length, True)
        if len(fewer) < FEWEST:
            break
        best = fewer
        if len(fewer) <= MOST - 6:
            break
    return best


def seen(camera, surface, placement, blobs, lift=0.05):
    """Projected outlines of those blobs of which most can be seen."""
    found = []
    for blob in blobs:
        rim = blob.outline()
        local, normal = surface.points(*rim.T), surface.normals(*rim.T)
        world = local @ placement[:3, :3].T + placement[:3, 3]
        raised = world + normal @ placement[:3, :3].T * lift
        if camera.visible(raised[::4]).mean() > 0.6:
            found.append(camera.project(world))
    return found


def around(camera, rim):
    """A polygon in upright px along a rim, with no more corners than it needs."""
    on_photo = np.float32(camera.project(rim))
    return cv2.approxPolyDP(on_photo[:, None], 0.6, True)[:, 0].astype(float)


def rule_edges(camera, rule):
    """(eight points in upright px, mm along the rule, mm across it): two along each side of
    the rectangle between the rule's long sides and those 10 mm graduations, farthest apart,
    between which all of it can be seen; or None."""
    w, tens = rule.width, np.arange(0, rule.length + 1, 10)
    for length in tens[:0:-1]:
        for x0 in tens[: len(tens) - length // 10]:
            x1, dx = x0 + length, 0.1 * length
            places = [(x0 + dx, 0), (x1 - dx, 0), (x1, 0.8), (x1, 7.2), (x1 - dx, w), (x0 + dx, w), (x0, 7.2), (x0, 0.8)]
            world = rule.places(places)
            if camera.in_frame(world).all() and camera.visible(world + [0, 0, 0.05]).all():
                return camera.project(world), int(length), float(w)
    return None


def scale_reference(camera, rule):
    """(two points in upright px, mm between them): the 10 mm graduations farthest apart of
    those that are whole in the picture, or None."""
    marks = np.arange(0, rule.length + 1, 10)
    places = rule.graduation(marks)
    good = marks[camera.visible(places + [0, 0, 0.05]) & camera.in_frame(places, margin=15)]
    if len(good) < 2:
        return None
    return camera.project(rule.graduation(good[[0, -1]])), int(good[-1] - good[0])
