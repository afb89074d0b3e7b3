//! The closed lists that a find chooses from: what it grows on, the ground, how it grows, who named it and how.

use crate::words::words;

words!(
    /// What it grows on.
    Substrate, "substrate", {
        /// A dead trunk that still stands.
        StandingTrunk = "standing-trunk",
        /// A fallen trunk or log.
        FallenTrunk = "fallen-trunk",
        /// A fallen branch or stick.
        FallenBranch = "fallen-branch",
        /// A stump.
        Stump = "stump",
        /// Wood under the ground.
        BuriedWood = "buried-wood",
        /// A living tree.
        LivingTree = "living-tree",
        /// Wood chips or sawdust.
        WoodChips = "wood-chips",
        /// Bare or overgrown soil.
        Soil = "soil",
        /// Leaf or needle litter.
        Litter = "litter",
        /// Moss.
        Moss = "moss",
        /// Grass.
        Grass = "grass",
        /// Dung.
        Dung = "dung",
        /// A burnt place.
        BurntGround = "burnt-ground",
        /// A cone.
        Cone = "cone",
        /// Another fungus.
        Fungus = "fungus",
        /// Something else: say what in the note.
        Other = "other",
    }
);

words!(
    /// The ground beneath.
    Ground, "ground", {
        /// Chalk or limestone.
        Chalk = "chalk",
        /// Acid.
        Acid = "acid",
        /// Neither.
        Neutral = "neutral",
        /// Looked at, and not known.
        Unknown = "unknown",
    }
);

words!(
    /// How the fruitbodies stand.
    Growth, "growth", {
        /// One alone.
        Single = "single",
        /// Several, apart.
        Scattered = "scattered",
        /// From one base.
        Tuft = "tuft",
        /// One above the other, like tiles.
        Tiers = "tiers",
        /// In a ring or an arc of one.
        Ring = "ring",
    }
);

words!(
    /// What makes the ground unfit to gather from.
    Hazard, "hazard", {
        /// Beside a road.
        Roadside = "roadside",
        /// Sprayed.
        Sprayed = "sprayed",
        /// Tipped rubbish or made ground.
        Tipped = "tipped",
    }
);

words!(
    /// How sure someone is.
    Sure, "degree of sureness", {
        /// A guess.
        Guess = "guess",
        /// Likely, no more.
        Likely = "likely",
        /// Sure.
        Sure = "sure",
    }
);

words!(
    /// How a width was come by.
    Measured, "way of measuring", {
        /// Judged by eye.
        Eye = "eye",
        /// With a rule.
        Rule = "rule",
        /// Off a photo with something of known size in it.
        Photo = "photo",
    }
);

words!(
    /// How a name was reached.
    How, "way of naming", {
        /// With the key.
        Key = "key",
        /// On sight.
        Sight = "sight",
        /// Told by someone.
        Told = "told",
        /// From a spore print.
        SporePrint = "spore-print",
        /// With a microscope.
        Microscope = "microscope",
    }
);

words!(
    /// How a position was got.
    Got, "way of getting a position", {
        /// The phone's own fix.
        Fix = "fix",
        /// A photo's own data.
        Photo = "photo",
        /// Pointed out on a map.
        Map = "map",
        /// A typed reference.
        Typed = "typed",
    }
);
