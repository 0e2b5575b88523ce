//! The front door: a document in, a plan out. The table of contents of the house.

use crate::build::Build;
use crate::check::{self, Case};
use crate::compute::{self, Numbers, Worked};
use crate::draw::{self, Drawing};
use crate::finding::{Finding, Severity};
use crate::model::Model;
use crate::rulebook::RuleBook;

/// What the workshop needs to know of a build.
#[derive(Clone, Debug, PartialEq)]
pub struct Plan {
    /// Every number as asked, planned and measured, in the order of the walk-round.
    pub numbers: Numbers,
    /// What is wrong, doubtful or worth saying, worst first.
    pub findings: Vec<Finding>,
    /// The side drawing, to scale.
    pub drawing: Drawing,
    /// The points and lengths behind the numbers.
    pub worked: Worked,
}

/// Works a build out under the rule books on file: pure, without clock, disk or network. A half-filled document is normal;
/// what is missing is a finding.
pub fn plan(build: &Build) -> Plan {
    plan_under(build, RuleBook::published())
}

/// The same under rule books of one's own.
pub fn plan_under(build: &Build, rules: RuleBook) -> Plan {
    let model = Model::under(build, rules);
    let worked = compute::work_out(&model);
    let numbers = compute::numbers(&model, &worked);
    let findings = check::run(&Case { model: &model, worked: &worked, numbers: &numbers });
    let drawing = draw::side(&model, &worked, &numbers);
    Plan { numbers, findings, drawing, worked }
}

impl Plan {
    /// How many findings there are of a severity.
    pub fn count(&self, severity: Severity) -> usize {
        self.findings.iter().filter(|finding| finding.severity == severity).count()
    }
}
