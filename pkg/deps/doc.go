// Package deps holds the house's import policy, and the test that keeps it.
//
// Data flows down one list of packages, each of which may import only packages
// above it, and of those only the ones that its line in the policy names. So a
// stage can be read, tested and replaced without the stages after it; a writer
// of a format can't start to work out geometry; and the dry run, which judges
// toolpaths, can't come to rely on what made them. Third-party modules are named
// in the same lines, so that each stays behind one door. The Go project keeps its
// own packages in order in the same way, in go/build's deps_test.go.
//
// The policy is the text at the head of deps_test.go. To add a package or an
// import, change its line there, and say why in the commit; a larger move belongs
// among the decisions in DEVELOPERS.md. The test also keeps the top level of the
// repository to its few names, process exit to cmd, and cgo out.
package deps
