fn main() {
    let b = witnessmark_core::build::sample::sample();
    let t = std::time::Instant::now();
    let p = witnessmark_core::plan(&b);
    eprintln!("{:?}", t.elapsed());
    for n in p.numbers.each() {
        println!(
            "{:24} {:6} asked {:?} planned {:?} {:?}",
            n.number.id,
            n.side.word(),
            n.asked.map(|a| a.value),
            n.planned.as_ref().map_err(|m| m.to_string()),
            n.verdict
        );
    }
    for f in &p.findings {
        println!("{:?} {} | {} | {} | {}", f.severity, f.check, f.what, f.why, f.action);
    }
}
