//! The papers for the site: crew sheets, inspection and test plan with its forms, elevation schedule. In: what was
//! decided, clauses, `site.yaml`. Out: the values of their templates. Decides nothing, and types no requirement twice.

mod coat;
mod crew;
mod data;
mod form;
mod keep_off;
mod plan;
mod schedule;

pub(super) use coat::{Chosen, chosen};
pub(super) use crew::CrewContext;
pub(super) use data::Site;
pub(super) use plan::PlanContext;
pub(super) use schedule::ScheduleContext;
