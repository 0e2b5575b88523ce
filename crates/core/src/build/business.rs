//! What the customer is told in money, what the customer agreed to show, and which photos stand on the sheets.

use crate::record;

record! {
    /// The head of a quote: what holds for every line of it.
    pub struct Quote {
        number: Text "The number under which the workshop keeps the quote.",
        on: Day "The day it was made.",
        valid_until: Day "The last day on which it may be accepted.",
        currency: Text "The currency of every amount, as it is written: EUR, CHF, £.",
        tax_percent: Percent(0.0..100.0) "Tax on every line that names no rate of its own.",
        prices_include_tax: YesNo "The prices of parts and work are with tax.",
        deposit: Money(0.0..1_000_000.0) "What is to be paid before parts are ordered, tax included.",
        note: Text "Anything else the customer should read before accepting.",
    }
}

record! {
    /// A line of work on a quote: hours at a rate, or one price for all of it.
    pub struct Work {
        what: Text "What is done, in words the customer follows.",
        hours: Plain(0.0..1000.0) "Hours it takes.",
        rate: Money(0.0..10000.0) "Price of an hour.",
        price: Money(0.0..1_000_000.0) "One price for all of it, in place of hours and rate.",
        tax_percent: Percent(0.0..100.0) "Tax on this line, where it differs.",
    }
}

record! {
    /// What the customer agreed that the page of the finished bike shows.
    pub struct Show {
        agreed_on: Day "The day on which the customer agreed.",
        agreed_with: Text "How it was agreed: in writing, by mail.",
        rider: YesNo "The rider’s name may be shown.",
        event: YesNo "What the bike was built for may be shown.",
        parts: YesNo "The parts may be named.",
        drawing: YesNo "The side drawing may be shown; it is to scale, so a position can be measured off it.",
        words: Text "What the page says of the bike before its numbers.",
    }
}

record! {
    /// On which sheets a photo stands. The photo itself is kept beside the document, under the name that this stands under.
    pub struct SheetPhoto {
        bench: YesNo "It stands on the bench sheet.",
        hand_over: YesNo "It stands on the hand-over sheet.",
        caption: Text "What stands under it, where that is not what was said when it was taken.",
    }
}
