//! `plantday completions`.

use super::input::Error;
use super::output::print;
use super::{Arguments, FINE};
use clap::CommandFactory;
use clap_complete::Shell;

/// Print a script that completes commands and options in a shell
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:\n  \
plantday completions bash > ~/.local/share/bash-completion/completions/plantday\n  \
plantday completions fish > ~/.config/fish/completions/plantday.fish\n  \
plantday completions zsh > ~/.zfunc/_plantday     # with fpath+=~/.zfunc before compinit in ~/.zshrc")]
pub(super) struct Completions {
    /// The shell
    shell: Shell,
}

impl Completions {
    pub(super) fn run(&self) -> Result<u8, Error> {
        let mut script = Vec::new();
        clap_complete::generate(
            self.shell,
            &mut Arguments::command(),
            "plantday",
            &mut script,
        );
        print(&String::from_utf8_lossy(&script))?;
        Ok(FINE)
    }
}
