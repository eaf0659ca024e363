using Whetwright.Darkroom;

return CommandLine.Run(args);
