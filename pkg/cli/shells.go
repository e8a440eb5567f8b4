package cli

// shells are the scripts of completion. Each asks strapwork itself, so that none knows a
// command or a flag; what they are written in is each shell's own manual: bash,
// "Programmable Completion"; zsh, zshcompsys(1); fish, complete(1); PowerShell,
// Register-ArgumentCompleter.
var shells = map[string]string{
	"bash": `_strapwork() {
  local line word ending file
  COMPREPLY=()
  while IFS= read -r line; do
    case $line in
      :folders) compopt -o filenames; while IFS= read -r file; do COMPREPLY+=("$file"); done < <(compgen -d -- "${COMP_WORDS[COMP_CWORD]}") ;;
      :files*)
        compopt -o filenames
        ending=${line#:files}
        while IFS= read -r file; do
          if [ -z "$ending" ] || [ -d "$file" ]; then COMPREPLY+=("$file"); continue; fi
          for word in $ending; do case $file in *."$word") COMPREPLY+=("$file") ;; esac; done
        done < <(compgen -f -- "${COMP_WORDS[COMP_CWORD]}") ;;
      *=$'\t'*) compopt -o nospace; COMPREPLY+=("${line%%$'\t'*}") ;;
      *) COMPREPLY+=("${line%%$'\t'*}") ;;
    esac
  done < <("${COMP_WORDS[0]}" __complete "${COMP_WORDS[@]:1:COMP_CWORD}" 2>/dev/null)
}
complete -F _strapwork strapwork
`,
	"zsh": `_strapwork() {
  local line ending
  local -a lines
  while IFS= read -r line; do
    case $line in
      :folders) _files -/ ;;
      :files) _files ;;
      :files*) ending=${line#:files }; _files -g "*.(${ending// /|})" ;;
      *) line=${line//:/\\:}; lines+=("${line/$'\t'/:}") ;;
    esac
  done < <("${words[1]}" __complete "${(@)words[2,CURRENT]}" 2>/dev/null)
  (( ${#lines} )) && _describe strapwork lines
}
compdef _strapwork strapwork
`,
	"fish": `function __strapwork_complete
  set -l typed (commandline -opc)
  for line in (strapwork __complete $typed[2..-1] (commandline -ct) 2>/dev/null)
    switch $line
      case :folders
        __fish_complete_directories (commandline -ct)
      case ':files*'
        __fish_complete_path (commandline -ct)
      case '*'
        echo $line
    end
  end
end
complete -c strapwork -f -a '(__strapwork_complete)'
`,
	"powershell": `Register-ArgumentCompleter -Native -CommandName strapwork -ScriptBlock {
  param($word, $ast, $cursor)
  $typed = @($ast.CommandElements | Select-Object -Skip 1 | Where-Object { $_.Extent.EndOffset -lt $cursor } | ForEach-Object { $_.ToString() })
  if ($word -eq '') { $word = '""' }
  & strapwork __complete @typed $word 2>$null | ForEach-Object {
    if ($_ -like ':*') {
      Get-ChildItem "$word*" | ForEach-Object { [System.Management.Automation.CompletionResult]::new((Resolve-Path -Relative $_)) }
    } else {
      $value, $about = $_ -split "` + "`t" + `", 2
      if (-not $about) { $about = $value }
      [System.Management.Automation.CompletionResult]::new($value, $value, 'ParameterValue', $about)
    }
  }
}
`,
}
