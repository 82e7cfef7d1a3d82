"""A small network that sees crotch, toes, heels and the wall's base in a window along the legs.

    window   truths                   -> places of the sights in the window along the legs
    crops    photos and truths        -> crops larger than the window, for training
    net      picture of a window      -> one map a sight (log weights of places)
    train    crops of some worlds     -> weights
    export   weights                  -> ONNX, for OpenCV's ``dnn``
    score    ONNX, worlds left out    -> errors beside those of the program's own finders

The program runs it in `pose_fit.sights.legs_network`. Each map's softmax is a distribution over places: its mean is the sight and its spread says
how unsure it is. Every score is of a world the weights never saw.
"""
