"""Rendered photos of children who do not exist, with everything true of them known.

One way from parameters to a file:

    draw     seed, index, photo          -> Scene (parameters only)
    body     Person                      -> Body (rest shape; the only user of the body model)
    posing   Body, Stance                -> Posed (on the floor, at the wall; the true inseam)
    dress    Posed, Dress                -> garments and shoes; skin: skin, eyes, hair
    references  Scene, child             -> Mounted (reference and its points)
    camera   View, what must be seen     -> Camera (aimed, distorted), Window (crop, resize)
    render   all of that                 -> Stage; then blender (light), film (file), truth (JSON)

Only ``body`` needs the body model and only ``blender``, ``materials`` and ``props`` need
Blender, both from the ``bench`` extra; everything else runs without.
"""
