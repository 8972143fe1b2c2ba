//! Everything that the continuous integration runs.

use anyhow::Result;

use crate::npm;
use crate::project::Project;

/// Runs every check.
pub(crate) fn verify(project: &Project) -> Result<()> {
    npm::install(project, &project.page_tests())?;
    crate::build(project)
}
