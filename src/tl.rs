//! temp
#![allow(warnings)]
use std::time::Instant;
use std::sync::OnceLock;
static START: OnceLock<Instant> = OnceLock::new();
pub fn tl<T>(name:&str, f: impl FnOnce()->T)->T{
    let s=START.get_or_init(Instant::now);
    let a=s.elapsed().as_micros();
    let r=f();
    let b=s.elapsed().as_micros();
    if std::env::var_os("TL").is_some(){ eprintln!("{:>7} {:>7} {:>6} {:?} {}",a,b,b-a,std::thread::current().id(),name); }
    r
}
