"""Rendered photos of known truth from worlds that differ in kind.

A world is a way of making photos: how children are dressed, where they stand, how the room
looks, what the phone does to the picture. What is fitted on some worlds is scored on one it
never saw, so a figure says what to expect where nothing was fitted.

    people      measured children, drawn whole           -> Proportions
    bodies      body model, stretched along the body     -> Body (true inseam as drawn)
    hips        where the truth has the hip joints
    plain       the bench's own scenes, nothing stretched -> WorldScene
    stances     asked-for pose and free ones             -> Posed
    tubes       cloth as tubes around the body           -> Sheet of cloth (trousers, skirt, top)
    drape       the same cloth let fall (simulation)
    outfits     how each world dresses a child           -> Outfit
    rooms       furniture, doors ajar, people, boards    -> pieces of the room
    book        a book between the legs under its label  -> Book
    draw        world, child, photo                      -> WorldScene (parameters only)
    make        all of it                                -> photo and truth

Scenes, cameras, references, light, film and the truth file's format are those of
:mod:`calibration.scenes`. One series is made by

    python -m calibration.worlds bake STOCK         body model and measured children, once
    python -m calibration.worlds render STOCK OUT   photos and truths, in several processes

``bake`` needs the body model, ``render`` Blender; both come with the ``bench`` extra.
"""
