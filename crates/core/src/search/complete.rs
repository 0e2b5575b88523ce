//! Complete a build: the best parts for the places that are open, given those that stay.
//!
//! What goes with what is told by the checks that are decided by facts of parts alone: one candidate of each group that a
//! check can tell apart is put into the build, alone and with one of each other slot, and the check is run. What takes three
//! open places at once is asked of each list that would be told ([`Answer`](super::complete_exact::Answer) is of lists that
//! passed). The choice itself is [`complete_exact`](super::complete_exact); what wishes cost and which of them clash,
//! [`complete_why`](super::complete_why).
//!
//! A pair that cannot be judged is allowed, and its question is told with the list, unless only judged parts are wanted.
//! What needs settings or anything worked out (steerer length, position) is not asked here: plan the list and see.

use super::complete_exact::{Candidate, Chosen, Cost, Effort, Limits, Puzzle, Quantity, Slot, Table, Wanted};
use super::complete_why::{Clash, Toll, Wish, clash, tolls};
use super::fitting::{Bench, Candidates, Spot, Verdict, empty, fitting, put, small, verdict};
use crate::build::Build;
use crate::catalogue::Entry;
use crate::check::{self, Check};
use crate::field::FieldValue;
use crate::finding::Finding;
use crate::part::{KINDS, PartKind, Places, Supplier};
use std::collections::{BTreeMap, HashMap};

/// Kinds that a race bike is not complete without; of bar and stem, or the one-piece cockpit, see [`open_spots`].
const NEEDED: &[&str] = &[
    "lever",
    "tape",
    "headset",
    "fork",
    "frame",
    "bottom_bracket",
    "crankset",
    "pedal",
    "rear_derailleur",
    "cassette",
    "chain",
    "axle",
    "wheel",
    "tyre",
    "rotor",
    "caliper",
    "saddle",
    "post",
];

/// At most so many times a check is asked of a pair; beyond, there is too much to choose from.
pub const MOST_JUDGEMENTS: usize = 2_000_000;

/// Why nothing was searched where the time was over before that.
const TOO_LONG: &str =
    "judging what goes with what took longer than there was time for: open fewer places, or narrow the catalogue";

/// At most so many steps of the exact search, some seconds of work.
pub const MOST_STEPS: u64 = 500_000;

/// What is wanted.
#[derive(Clone, Debug)]
pub struct Order {
    /// What is to be least.
    pub aim: Quantity,
    /// What the new parts may cost together.
    pub budget: Option<f64>,
    /// What the bike may weigh, as far as masses are known.
    pub mass_max_g: Option<f64>,
    /// So many of the best lists.
    pub lists: usize,
    /// Places that are open although something is fitted there, by path.
    pub replace: Vec<String>,
    /// Only parts that lie on the shelf.
    pub in_stock: bool,
    /// Only parts that can be judged.
    pub judged: bool,
}

impl Default for Order {
    fn default() -> Self {
        Order {
            aim: Quantity::Price,
            budget: None,
            mass_max_g: None,
            lists: 5,
            replace: Vec::new(),
            in_stock: false,
            judged: false,
        }
    }
}

/// A part of a list.
#[derive(Clone, Debug, PartialEq)]
pub struct Pick {
    /// Where.
    pub spot: Spot,
    /// Which.
    pub part: Entry,
    /// It is fitted already.
    pub stays: bool,
}

/// A complete list.
#[derive(Clone, Debug, PartialEq)]
pub struct List {
    /// A part for each open place.
    pub picks: Vec<Pick>,
    /// What they come to: new parts by price, all parts of the list by mass; with [`Completion::staying_mass_g`] the bike.
    pub cost: Cost,
    /// What could not be judged.
    pub questions: Vec<Finding>,
    /// The build with the list in place.
    pub build: Build,
}

/// A wish, as a person would name it.
#[derive(Clone, Debug, PartialEq)]
pub enum WishOf {
    /// The budget, the mass, or the number of new parts.
    Limit(Quantity),
    /// The part that stays at a place.
    Keep(Spot),
}

/// What a wish costs.
#[derive(Clone, Debug, PartialEq)]
pub struct Price {
    /// The wish.
    pub wish: WishOf,
    /// The best without it, where that is better.
    pub without: Option<Cost>,
    /// For a limit, the least more of it that makes the list better.
    pub next: Option<Cost>,
    /// Both are proven.
    pub proven: bool,
}

/// Wishes that leave no list.
#[derive(Clone, Debug, PartialEq)]
pub struct Clashing {
    /// The wishes; none where the parts on offer themselves make no bike.
    pub wishes: Vec<WishOf>,
    /// The places that are enough for it.
    pub spots: Vec<Spot>,
    /// No smaller set of wishes clashes.
    pub smallest: bool,
}

/// The answer.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Completion {
    /// Open places for which there are candidates.
    pub open: Vec<Spot>,
    /// Open places for which there are none.
    pub without_candidates: Vec<Spot>,
    /// The best lists, best first.
    pub lists: Vec<List>,
    /// They are proven to be the best, or where there is none, that none exists.
    pub proven: bool,
    /// Steps of the search.
    pub steps: u64,
    /// What each wish costs; where there is a list.
    pub prices: Vec<Price>,
    /// Which wishes clash; where there is no list.
    pub clashing: Option<Clashing>,
    /// What stays clashes among itself, whatever is chosen.
    pub at_odds: Vec<Finding>,
    /// Mass of the parts that stay, as far as known.
    pub staying_mass_g: f64,
    /// Parts that stay and whose mass is not known, by path.
    pub mass_not_known: Vec<String>,
    /// Candidates left aside because their price or mass is not known and needed.
    pub not_counted: usize,
    /// Candidates left aside because there are none in stock.
    pub out_of_stock: usize,
    /// Why nothing was searched.
    pub refusal: Option<String>,
    /// Whoever waits for it had it ended before its own bounds: what is told holds, and more may be there.
    pub ended_early: bool,
}

/// Completes a build from parts on offer: those of a catalogue, and those on the build's own shelf.
pub fn complete(build: &Build, catalogue: &[Entry], order: &Order) -> Completion {
    complete_until(build, catalogue, order, &|| true)
}

/// The same for somebody who waits: it is asked now and then whether to go on. This crate has no clock, so the caller
/// looks at theirs.
pub fn complete_until(build: &Build, catalogue: &[Entry], order: &Order, go_on: &dyn Fn() -> bool) -> Completion {
    let mut answer = completed(build, catalogue, order, go_on);
    answer.ended_early = !go_on();
    answer
}

fn completed(build: &Build, catalogue: &[Entry], order: &Order, go_on: &dyn Fn() -> bool) -> Completion {
    let mut offered: Vec<Entry> = shelf(build);
    offered.extend(catalogue.iter().cloned());
    let (open, without_candidates) = open_spots(build, &offered, order);
    let mut answer = Completion { open: open.clone(), without_candidates, ..Completion::default() };
    if open.is_empty() {
        answer.refusal = Some("no place is open for which there are candidates".to_owned());
        return answer;
    }
    let posed = match Posed::new(build, &offered, &open, &[], order, go_on) {
        Ok(posed) => posed,
        Err(refusal) => {
            answer.refusal = Some(refusal);
            return answer;
        }
    };
    answer.at_odds = at_odds(&posed.bench);
    (answer.staying_mass_g, answer.mass_not_known) = mass(&posed.bench.build);
    answer.not_counted = posed.not_counted;
    answer.out_of_stock = posed.out_of_stock;
    let wanted = posed.wanted(order, answer.staying_mass_g);
    let effort = Effort { lists: order.lists.max(1), steps: MOST_STEPS, any: false };
    let found = posed.puzzle.solve(&wanted, effort, &mut |list| go_on() && posed.accepts(list, order));
    answer.proven = found.proven && go_on();
    answer.steps = found.steps;
    answer.lists = found.lists.iter().map(|chosen| posed.list(chosen)).collect();
    if !go_on() {
        return answer;
    }
    // What keeping a part costs, and whether it is what clashes, is asked with its place open and the part a wish.
    let kept = kept_spots(build, &offered, &open);
    let wide = Posed::new(build, &offered, &open, &kept, order, go_on).unwrap_or(posed);
    let (mass_g, _) = mass(&wide.bench.build);
    let wanted = wide.wanted(order, mass_g);
    let mut accepts = |list: &[usize]| go_on() && wide.accepts(list, order);
    if let Some(best) = found.lists.first() {
        let best = Chosen { cost: Posed::with_kept(best.cost, mass_g, answer.staying_mass_g), ..best.clone() };
        let tolls = tolls(&wide.puzzle, &wanted, &best, MOST_STEPS / 10, &mut accepts);
        // Told as the lists are: the mass of what is chosen for the open places, and of what else would change.
        let moved_mg = thousandths(answer.staying_mass_g - mass_g);
        answer.prices = tolls.iter().map(|toll| wide.price(toll, moved_mg)).collect();
        // What was not looked for to the end is not proven.
        answer.prices.iter_mut().for_each(|price| price.proven &= go_on());
    } else if found.proven {
        let clashing = clash(&wide.puzzle, &wanted, MOST_STEPS, &mut accepts).map(|clash| wide.clashing(&clash));
        // Ended half-way, a set that seems to clash may only not have been looked through.
        answer.clashing = clashing.filter(|_| go_on());
    }
    answer
}

/// The parts on the build's shelf, as candidates; each keeps the name it has there.
pub fn shelf(build: &Build) -> Vec<Entry> {
    let each = build.shelf.each();
    each.into_iter().map(|(kind, name, record)| named(Entry::of(kind, record), name)).collect()
}

fn named(mut part: Entry, id: &str) -> Entry {
    id.clone_into(&mut part.id);
    part
}

/// Open places with candidates and without: those that a bike needs and where nothing is fitted, those with parts on the
/// build's shelf, and those that are to be replaced. A one-piece cockpit makes stem and bar needless, and the other way
/// round.
fn open_spots(build: &Build, offered: &[Entry], order: &Order) -> (Vec<Spot>, Vec<Spot>) {
    let fitted = |spot: &Spot| build.parts.record(spot.kind.key, &spot.place).is_some();
    let one_piece = build.parts.cockpit.at("").is_some();
    let wanted = |spot: &Spot| {
        let key = spot.kind.key;
        let replaced = order.replace.iter().any(|path| Spot::from_path(path).as_ref() == Some(spot));
        let on_shelf = build.shelf.each().iter().any(|(kind, ..)| kind.key == key);
        let needed = NEEDED.contains(&key) || (!one_piece && ["stem", "bar"].contains(&key));
        replaced || (needed && !fitted(spot)) || (on_shelf && (fitted(spot) || needed))
    };
    let spots = KINDS.iter().filter(|kind| kind.places != Places::Many).flat_map(spots_of).filter(wanted);
    spots.partition(|spot| offered.iter().any(|part| part.kind.key == spot.kind.key))
}

/// Places that are not open and could be: something is fitted and there are other parts of its kind.
fn kept_spots(build: &Build, offered: &[Entry], open: &[Spot]) -> Vec<Spot> {
    let spots = KINDS.iter().filter(|kind| kind.places != Places::Many).flat_map(spots_of);
    spots
        .filter(|spot| build.parts.record(spot.kind.key, &spot.place).is_some() && !open.contains(spot))
        .filter(|spot| offered.iter().any(|part| part.kind.key == spot.kind.key))
        .collect()
}

fn spots_of(kind: &'static PartKind) -> Vec<Spot> {
    let names = if kind.places == Places::One { &[""][..] } else { kind.places.names() };
    names.iter().map(|place| Spot { kind, place: (*place).to_owned() }).collect()
}

/// Candidates of a place: those that come into question, and what each comes to.
struct Offer {
    spot: Spot,
    candidates: Candidates,
    costs: Vec<Cost>,
    /// The first candidate is fitted now.
    fitted: bool,
}

/// The puzzle that a build poses.
struct Posed {
    puzzle: Puzzle,
    offers: Vec<Offer>,
    /// For each slot, the candidate of its offer that each of the puzzle's stands for.
    origins: Vec<Vec<usize>>,
    /// Slots whose part is to stay.
    kept: BTreeMap<usize, usize>,
    /// The build with every slot empty.
    bench: Bench,
    /// What each check finds there.
    without: HashMap<&'static str, Vec<Finding>>,
    /// Checks that look at three slots or more.
    of_many: Vec<&'static Check>,
    not_counted: usize,
    out_of_stock: usize,
}

impl Posed {
    /// Refuses where there is more to judge than [`MOST_JUDGEMENTS`], or than there is time for.
    fn new(
        build: &Build,
        offered: &[Entry],
        open: &[Spot],
        kept: &[Spot],
        order: &Order,
        go_on: &dyn Fn() -> bool,
    ) -> Result<Self, String> {
        let mut base = build.clone();
        let spots: Vec<(&Spot, bool)> =
            open.iter().map(|spot| (spot, false)).chain(kept.iter().map(|spot| (spot, true))).collect();
        for (spot, _) in &spots {
            empty(&mut base.parts, spot);
        }
        let mut posed = Posed {
            puzzle: Puzzle::default(),
            offers: Vec::new(),
            origins: Vec::new(),
            kept: BTreeMap::new(),
            bench: Bench::new(base),
            without: HashMap::new(),
            of_many: Vec::new(),
            not_counted: 0,
            out_of_stock: 0,
        };
        for check in check::ALL.iter().filter(|check| !check.between.is_empty()) {
            let slots = spots.iter().filter(|(spot, _)| check.between.contains(&spot.kind.key)).count();
            if slots > 0 {
                posed.without.insert(check.id, posed.bench.findings(check));
            }
            if slots > 2 {
                posed.of_many.push(check);
            }
        }
        for (spot, stays) in &spots {
            if !go_on() {
                return Err(TOO_LONG.to_owned());
            }
            let offer = posed.offer(build, offered, spot, order);
            let judged = fitting(&posed.bench.build, &spot.place, &offer.candidates);
            let slot = posed.offers.len();
            let passes = |verdict: &Verdict| match verdict {
                Verdict::DoesNotFit(_) => false,
                Verdict::NotKnown(_) => !order.judged,
                _ => true,
            };
            // A part that is to stay stays a candidate even where it clashes with what else stays.
            let fitted_stays = |at: usize| *stays && offer.fitted && at == 0;
            let verdicts = judged.verdicts.iter().enumerate();
            let origins: Vec<usize> =
                verdicts.filter(|(at, verdict)| passes(verdict) || fitted_stays(*at)).map(|(at, _)| at).collect();
            if *stays && offer.fitted {
                posed.kept.insert(slot, 0);
            }
            let class = classes(&offer.candidates, &origins, order);
            let candidates = origins.iter().zip(&class);
            let candidates =
                candidates.map(|(at, class)| Candidate { class: *class, cost: offer.costs[*at] }).collect();
            posed.puzzle.slots.push(Slot { candidates });
            posed.origins.push(origins);
            posed.offers.push(offer);
        }
        posed.tables(order, go_on)?;
        Ok(posed)
    }

    /// The candidates of a place: what is fitted first, then what is offered.
    fn offer(&mut self, build: &Build, offered: &[Entry], spot: &Spot, order: &Order) -> Offer {
        let fitted = build.parts.record(spot.kind.key, &spot.place).map(|record| Entry::of(spot.kind, record));
        let mut parts = Vec::new();
        let mut costs = Vec::new();
        if let Some(part) = &fitted {
            let mass_mg = part.number("mass_g").map_or(0, thousandths);
            parts.push(part.clone());
            costs.push(Cost { price_cents: 0, mass_mg, new_parts: 0 });
        }
        let needs_price = order.budget.is_some() || order.aim != Quantity::Mass;
        let needs_mass = order.mass_max_g.is_some() || order.aim == Quantity::Mass;
        for part in offered.iter().filter(|part| part.kind.key == spot.kind.key) {
            if order.in_stock && part.stock.as_ref().is_some_and(|stock| stock.value == 0) {
                self.out_of_stock += 1;
                continue;
            }
            let owned = part.named("supplied_by").and_then(|leaf| Supplier::from_value(&leaf.value));
            let owned = owned.is_some_and(|by| by != Supplier::Shop);
            let (price, mass_g) = (part.number("price"), part.number("mass_g"));
            if (needs_price && !owned && price.is_none()) || (needs_mass && mass_g.is_none()) {
                self.not_counted += 1;
                continue;
            }
            costs.push(Cost {
                price_cents: if owned { 0 } else { price.map_or(0, hundredths) },
                mass_mg: mass_g.map_or(0, thousandths),
                new_parts: i64::from(!owned),
            });
            parts.push(part.clone());
        }
        Offer { spot: spot.clone(), candidates: Candidates::new(spot.kind, parts), costs, fitted: fitted.is_some() }
    }

    /// Which classes go together, by running each check on one candidate of each of its groups in both slots.
    fn tables(&mut self, order: &Order, go_on: &dyn Fn() -> bool) -> Result<(), String> {
        let mut judgements = 0;
        for first in 0..self.offers.len() {
            for second in first + 1..self.offers.len() {
                if let Some(table) = self.table(first, second, order, &mut judgements, go_on)? {
                    self.puzzle.tables.insert((first, second), table);
                }
            }
        }
        Ok(())
    }

    fn table(
        &mut self,
        first: usize,
        second: usize,
        order: &Order,
        judgements: &mut usize,
        go_on: &dyn Fn() -> bool,
    ) -> Result<Option<Table>, String> {
        let (one, other) = (&self.offers[first], &self.offers[second]);
        let members = |slot: usize| {
            let slot_of = &self.puzzle.slots[slot];
            let classes = slot_of.candidates.iter().map(|candidate| candidate.class + 1).max().unwrap_or(0);
            let mut members = vec![0; classes];
            for (candidate, origin) in slot_of.candidates.iter().zip(&self.origins[slot]) {
                members[candidate.class] = *origin;
            }
            members
        };
        let (rows, columns) = (members(first), members(second));
        let mut goes = vec![true; rows.len() * columns.len()];
        let mut asked = false;
        for here in one.candidates.groupings() {
            let same = |there: &&super::fitting::Grouping| there.check.id == here.check.id;
            let Some(there) = other.candidates.groupings().iter().find(same) else { continue };
            asked = true;
            let mut told: HashMap<(u32, u32), bool> = HashMap::new();
            let mut there_now = None;
            for (row, candidate) in rows.iter().enumerate() {
                for (column, partner) in columns.iter().enumerate() {
                    let groups = (here.of[*candidate], there.of[*partner]);
                    let ok = if let Some(ok) = told.get(&groups) {
                        *ok
                    } else {
                        *judgements += 1;
                        if !go_on() {
                            return Err(TOO_LONG.to_owned());
                        }
                        if *judgements > MOST_JUDGEMENTS {
                            return Err(format!(
                                "more than {MOST_JUDGEMENTS} pairs are to be judged: open fewer places, or narrow the catalogue"
                            ));
                        }
                        if there_now != Some(row) {
                            put(&mut self.bench.build.parts, &one.spot, &one.candidates.parts()[*candidate]);
                            there_now = Some(row);
                        }
                        put(&mut self.bench.build.parts, &other.spot, &other.candidates.parts()[*partner]);
                        let ok = self.goes(here.check, &other.spot, order);
                        told.insert(groups, ok);
                        ok
                    };
                    goes[row * columns.len() + column] &= ok;
                }
            }
            empty(&mut self.bench.build.parts, &one.spot);
            empty(&mut self.bench.build.parts, &other.spot);
        }
        let scarce = order.in_stock && one.spot.kind.key == other.spot.kind.key;
        if scarce {
            asked = true;
            for (row, candidate) in rows.iter().enumerate() {
                for (column, partner) in columns.iter().enumerate() {
                    let part = &one.candidates.parts()[*candidate];
                    let only_one = part.stock.as_ref().is_some_and(|stock| stock.value == 1);
                    let both = part.id == other.candidates.parts()[*partner].id;
                    goes[row * columns.len() + column] &= !(only_one && both);
                }
            }
        }
        Ok(asked.then(|| Table::new(rows.len(), columns.len(), |row, column| goes[row * columns.len() + column])))
    }

    /// Whether a check lets the build on the bench pass.
    fn goes(&self, check: &'static Check, spot: &Spot, order: &Order) -> bool {
        let without = self.without.get(check.id).map_or(&[][..], Vec::as_slice);
        match verdict(&self.bench.build, spot, self.bench.findings(check), without, &mut Vec::new()) {
            Verdict::DoesNotFit(_) => false,
            Verdict::NotKnown(_) => !order.judged,
            _ => true,
        }
    }

    /// Whether a list passes the checks that look at three open places or more.
    fn accepts(&self, list: &[usize], order: &Order) -> bool {
        if self.of_many.is_empty() {
            return true;
        }
        let bench = Bench::new(self.fitted(list));
        self.of_many.iter().all(|check| {
            let without = self.without.get(check.id).map_or(&[][..], Vec::as_slice);
            bench.findings(check).iter().filter(|finding| !without.contains(finding)).all(|finding| {
                finding.severity != crate::finding::Severity::Stop || (finding.not_known && !order.judged)
            })
        })
    }

    fn wanted(&self, order: &Order, staying_mass_g: f64) -> Wanted {
        let limits = Limits {
            price_cents: order.budget.map(hundredths),
            mass_mg: order.mass_max_g.map(|most_g| thousandths(most_g - staying_mass_g)),
            new_parts: None,
        };
        Wanted { aim: order.aim, limits, kept: self.kept.clone() }
    }

    /// The build with a list in place.
    fn fitted(&self, list: &[usize]) -> Build {
        let mut build = self.bench.build.clone();
        for ((offer, origins), candidate) in self.offers.iter().zip(&self.origins).zip(list) {
            put(&mut build.parts, &offer.spot, &offer.candidates.parts()[origins[*candidate]]);
        }
        build
    }

    fn list(&self, chosen: &Chosen) -> List {
        let build = self.fitted(&chosen.candidates);
        let picks = self.offers.iter().zip(&self.origins).zip(&chosen.candidates);
        let picks = picks.map(|((offer, origins), candidate)| Pick {
            spot: offer.spot.clone(),
            part: offer.candidates.parts()[origins[*candidate]].clone(),
            stays: offer.fitted && origins[*candidate] == 0,
        });
        let bench = Bench::new(build);
        let mut questions: Vec<Finding> = Vec::new();
        for check in check::ALL.iter().filter(|check| self.without.contains_key(check.id)) {
            let found = bench.findings(check);
            questions.extend(found.into_iter().filter(|finding| {
                finding.not_known
                    && finding.severity != crate::finding::Severity::Note
                    && is_listed(&bench.build, finding)
            }));
        }
        List { picks: picks.collect(), cost: chosen.cost, questions, build: bench.build }
    }

    /// The cost of a list as this puzzle counts it, whose slots may be more than those the list was chosen for.
    fn with_kept(cost: Cost, mass_g: f64, mass_was_g: f64) -> Cost {
        Cost { mass_mg: cost.mass_mg + thousandths(mass_was_g - mass_g), ..cost }
    }

    fn wish(&self, wish: Wish) -> WishOf {
        match wish {
            Wish::Limit(quantity) => WishOf::Limit(quantity),
            Wish::Keep(slot) => WishOf::Keep(self.offers[slot].spot.clone()),
        }
    }

    fn price(&self, toll: &Toll, moved_mg: i64) -> Price {
        let moved = |cost: Cost| Cost { mass_mg: cost.mass_mg - moved_mg, ..cost };
        let cost = |chosen: &Option<Chosen>| chosen.as_ref().map(|chosen| moved(chosen.cost));
        Price { wish: self.wish(toll.wish), without: cost(&toll.without), next: cost(&toll.next), proven: toll.proven }
    }

    fn clashing(&self, clash: &Clash) -> Clashing {
        Clashing {
            wishes: clash.wishes.iter().map(|wish| self.wish(*wish)).collect(),
            spots: clash.slots.iter().map(|slot| self.offers[*slot].spot.clone()).collect(),
            smallest: clash.smallest,
        }
    }
}

/// The class of each candidate: alike to every check, and where one specimen must not be fitted twice, the same part.
fn classes(candidates: &Candidates, origins: &[usize], order: &Order) -> Vec<usize> {
    let mut numbers: HashMap<Vec<u32>, usize> = HashMap::new();
    origins
        .iter()
        .map(|at| {
            let mut key: Vec<u32> = candidates.groupings().iter().map(|grouping| grouping.of[*at]).collect();
            let part = &candidates.parts()[*at];
            let single = order.in_stock && part.stock.as_ref().is_some_and(|stock| stock.value == 1);
            key.push(if single { small(*at) } else { u32::MAX });
            let next = numbers.len();
            *numbers.entry(key).or_insert(next)
        })
        .collect()
}

/// What stays clashes with what else stays.
fn at_odds(bench: &Bench) -> Vec<Finding> {
    let checks = check::ALL.iter().filter(|check| !check.between.is_empty());
    let found = checks.flat_map(|check| bench.findings(check));
    found.filter(|finding| finding.severity == crate::finding::Severity::Stop && !finding.not_known).collect()
}

/// The known masses of the fitted parts, and the parts whose mass is not known.
fn mass(build: &Build) -> (f64, Vec<String>) {
    let mut sum_g = 0.0;
    let mut lacking = Vec::new();
    for (kind, place, record) in build.parts.each() {
        match record.number("mass_g") {
            Some(mass_g) => sum_g += mass_g,
            None => lacking.push(Spot { kind, place: place.to_owned() }.path()),
        }
    }
    (sum_g, lacking)
}

/// Every part that a question asks after is listed.
fn is_listed(build: &Build, finding: &Finding) -> bool {
    finding.about.iter().all(|about| {
        let address = about.address();
        let keys: Vec<&str> = address.split('.').collect();
        let ["parts", key, rest @ ..] = keys.as_slice() else { return true };
        let one = crate::part::kind(key).is_none_or(|kind| kind.places == Places::One);
        build.parts.record(key, if one { "" } else { rest.first().copied().unwrap_or_default() }).is_some()
    })
}

/// Money in hundredths; a range check of the field keeps it far from where this would lose a digit.
#[allow(clippy::cast_possible_truncation, reason = "at most ten million")]
fn hundredths(amount: f64) -> i64 {
    (amount * 100.0).round() as i64
}

/// Grams in milligrams.
#[allow(clippy::cast_possible_truncation, reason = "at most two hundred million")]
fn thousandths(amount: f64) -> i64 {
    (amount * 1000.0).round() as i64
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a part that is not there is to stop the test")]

    use super::*;
    use crate::build::sample::sample;
    use crate::field::Given;
    use crate::finding::Severity;
    use crate::plan;

    /// A part of the sample under another id, with some figures changed.
    fn like(build: &Build, path: &str, id: &str, figures: &[(&str, f64)]) -> Entry {
        let spot = Spot::from_path(path).unwrap();
        let record = build.parts.record(spot.kind.key, &spot.place).unwrap();
        let mut part = named(Entry::of(spot.kind, record), id);
        for (name, value) in figures {
            let index = spot.kind.fields.iter().position(|field| field.name == *name).unwrap();
            part.put(index, Some(Given::from(*value).to_leaf()));
        }
        part
    }

    /// Stems and bars for the sample without its own: two clamp diameters of the bar, dear and light, cheap and heavy.
    fn cockpit_to_choose() -> (Build, Vec<Entry>) {
        let whole = sample();
        let mut catalogue = Vec::new();
        for (id, clamp, price, mass) in
            [("a", 31.8, 60.0, 140.0), ("b", 31.8, 150.0, 110.0), ("c", 35.0, 40.0, 130.0), ("d", 31.8, 80.0, 125.0)]
        {
            let figures = [("bar_diameter_mm", clamp), ("price", price), ("mass_g", mass)];
            catalogue.push(like(&whole, "stem", id, &figures));
        }
        for (id, clamp, price, mass) in [("e", 31.8, 90.0, 270.0), ("f", 35.0, 70.0, 260.0), ("g", 31.8, 240.0, 200.0)]
        {
            catalogue.push(like(
                &whole,
                "bar",
                id,
                &[("clamp_diameter_mm", clamp), ("price", price), ("mass_g", mass)],
            ));
        }
        let mut build = whole;
        build.parts.stem.0.clear();
        build.parts.bar.0.clear();
        (build, catalogue)
    }

    fn ids(list: &List) -> Vec<&str> {
        list.picks.iter().map(|pick| pick.part.id.as_str()).collect()
    }

    #[test]
    fn the_cheapest_stem_and_bar_that_go_together_are_chosen_and_no_check_stops_them() {
        let (build, catalogue) = cockpit_to_choose();
        let answer = complete(&build, &catalogue, &Order::default());
        assert!(answer.proven && answer.refusal.is_none(), "{answer:?}");
        let open: Vec<String> = answer.open.iter().map(Spot::path).collect();
        assert_eq!(open, ["parts.bar", "parts.stem"]);
        assert_eq!(
            answer.lists.iter().map(|list| list.cost.price_cents).collect::<Vec<_>>(),
            [11_000, 15_000, 17_000, 24_000, 30_000]
        );
        assert_eq!(ids(&answer.lists[0]), ["f", "c"]);
        for list in &answer.lists {
            let stops: Vec<Finding> = plan(&list.build)
                .findings
                .into_iter()
                .filter(|finding| finding.severity == Severity::Stop)
                .filter(|finding| check::by_id(finding.check).is_some_and(|check| !check.between.is_empty()))
                .collect();
            assert!(stops.is_empty(), "{stops:#?}");
        }
    }

    #[test]
    fn a_budget_costs_mass_and_its_next_step_is_told() {
        let (build, catalogue) = cockpit_to_choose();
        let order = Order { aim: Quantity::Mass, budget: Some(200.0), ..Order::default() };
        let answer = complete(&build, &catalogue, &order);
        // c and f weigh 390 g for 110; d and e 395 g; a and e 410 g.
        assert_eq!(ids(&answer.lists[0]), ["f", "c"]);
        let price = answer.prices.iter().find(|price| price.wish == WishOf::Limit(Quantity::Price)).unwrap();
        assert_eq!(price.without.map(|cost| (cost.price_cents, cost.mass_mg)), Some((39_000, 310_000)));
        // The next that is lighter than 390 g: b and e, 380 g for 240; then a and g, 340 g for 300.
        assert_eq!(price.next.map(|cost| (cost.price_cents, cost.mass_mg)), Some((24_000, 380_000)));
    }

    #[test]
    fn a_part_to_keep_and_a_budget_that_clash_are_named_and_nothing_else_is() {
        let (mut build, catalogue) = cockpit_to_choose();
        put(&mut build.parts, &Spot::from_path("bar").unwrap(), &catalogue[4]);
        let order = Order { budget: Some(50.0), ..Order::default() };
        let answer = complete(&build, &catalogue, &order);
        assert!(answer.lists.is_empty() && answer.proven);
        let clashing = answer.clashing.unwrap();
        assert!(clashing.smallest);
        // With another bar the stem would still cost 40 and its bar 70: the budget alone leaves none.
        assert_eq!(clashing.wishes, [WishOf::Limit(Quantity::Price)]);

        let order = Order { budget: Some(55.0), ..Order::default() };
        let mut with_gift = catalogue.clone();
        with_gift.push(like(
            &sample(),
            "bar",
            "gift",
            &[("clamp_diameter_mm", 35.0), ("price", 0.0), ("mass_g", 300.0)],
        ));
        let clashing = complete(&build, &with_gift, &order).clashing.unwrap();
        let bar = Spot::from_path("bar").unwrap();
        assert_eq!(clashing.wishes, [WishOf::Limit(Quantity::Price), WishOf::Keep(bar)]);
    }

    #[test]
    fn what_keeping_a_part_costs_is_the_difference_between_two_whole_bikes() {
        let (mut build, catalogue) = cockpit_to_choose();
        put(&mut build.parts, &Spot::from_path("bar").unwrap(), &catalogue[4]);
        let answer = complete(&build, &catalogue, &Order { aim: Quantity::Mass, ..Order::default() });
        assert_eq!(ids(&answer.lists[0]), ["b"]);
        let keeping = WishOf::Keep(Spot::from_path("bar").unwrap());
        let price = answer.prices.iter().find(|price| price.wish == keeping).unwrap();
        // The bar that stays has 270 g; the lightest that goes with stem b has 200 and costs 240.
        let without = price.without.unwrap();
        assert_eq!(answer.lists[0].cost.mass_mg - without.mass_mg, 70_000);
        assert_eq!(without.price_cents - answer.lists[0].cost.price_cents, 24_000);
    }

    #[test]
    fn what_is_not_in_stock_and_what_has_no_price_is_left_aside_and_counted() {
        let (build, mut catalogue) = cockpit_to_choose();
        catalogue[2].stock = Some(0.into());
        let at = catalogue[5].kind.fields.iter().position(|field| field.name == "price").unwrap();
        catalogue[5].put(at, None);
        let answer = complete(&build, &catalogue, &Order { in_stock: true, ..Order::default() });
        assert_eq!((answer.out_of_stock, answer.not_counted), (1, 1));
        assert_eq!(ids(&answer.lists[0]), ["e", "a"]);
    }

    #[test]
    fn nothing_open_is_said_and_nothing_is_made_up() {
        let answer = complete(&sample(), &[], &Order::default());
        assert!(answer.lists.is_empty() && answer.refusal.is_some());
    }
}
