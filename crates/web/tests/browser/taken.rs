//! Fifteen readings off the sample bike: name, what is read, from where and to where. The page is tried with them over a
//! socket and in a browser.

/// Each reading.
pub(crate) const TAKEN: [(&str, &str, &str, &str); 15] = [
    ("bb-height", "height over the floor", "bottom bracket", "bottom bracket"),
    ("rear-height", "height over the floor", "rear axle", "rear axle"),
    ("front-height", "height over the floor", "front axle", "front axle"),
    ("bb-rear", "straight", "bottom bracket", "rear axle"),
    ("bb-front", "straight", "bottom bracket", "front axle"),
    ("axles", "straight", "rear axle", "front axle"),
    ("nose-height", "height over the floor", "saddle nose", "saddle nose"),
    ("nose-rear", "straight", "rear axle", "saddle nose"),
    ("bb-nose", "straight", "bottom bracket", "saddle nose"),
    ("bb-bar", "straight", "bottom bracket", "bar clamp"),
    ("bar-height", "height over the floor", "bar clamp", "bar clamp"),
    ("nose-bar", "straight", "saddle nose", "bar clamp"),
    ("nose-front", "straight", "front axle", "saddle nose"),
    ("nose-ahead", "level distance", "bottom bracket", "saddle nose"),
    ("bar-ahead", "level distance", "bottom bracket", "bar clamp"),
];
