using BenchmarkDotNet.Configs;
using BenchmarkDotNet.Running;

// Each benchmark builds a project of its own, which takes longer than the usual two minutes on a busy machine.
BenchmarkSwitcher.FromAssembly(typeof(Program).Assembly).Run(args, ManualConfig.Create(DefaultConfig.Instance).WithBuildTimeout(TimeSpan.FromMinutes(10)));
